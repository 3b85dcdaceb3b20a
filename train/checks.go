package train

// A CheckKind is what a check looks at.
type CheckKind int

const (
	CheckRing     CheckKind = iota // top + bottom against left + right, before sag is taken out
	CheckReturn                    // a position read twice
	CheckResidual                  // a reading off the fit
	CheckRepeat                    // one pass against the first
	CheckMethod                    // one kind of reading against all others
	CheckSag                       // a long bracket without sag, or one whose reach nothing tells
	CheckRange                     // readings further apart than the dial's range
	CheckCopy                      // readings that are there twice to the last digit

	// Of a survey.
	CheckPoint       // a point off the line of its shaft
	CheckShafts      // two shafts of a machine other than their y and z say
	CheckSurvey      // a coupling other than what was read there, in mm
	CheckSurveyAngle // the same, in mrad
	CheckClosure     // a closure error
)

// String is a word for programs.
func (k CheckKind) String() string {
	return [...]string{"ring", "return", "residual", "repeat", "method", "sag", "range", "copy",
		"point", "shafts", "survey", "survey_angle", "round"}[k]
}

// Disagrees says whether it holds readings against each other: where it fails one of them is wrong.
func (k CheckKind) Disagrees() bool {
	switch k {
	case CheckRing, CheckReturn, CheckResidual, CheckRepeat, CheckMethod:
		return true
	}
	return false
}

// A ReadingCheck is a check of readings that failed.
type ReadingCheck struct {
	Kind  CheckKind
	Dial  int     // index into the coupling's dials
	Size  float64 // mm
	Limit float64 // mm
	Angle float64 // degrees, of Return and Residual; NaN: none
	Other int     // of Copy: the dial that it is like, or the first of that set
	Whole bool    // of Copy: all of a set is like another set

	Upright, Across float64 // mm, of Ring: top + bottom and left + right as read
	Circle          float64 // mm, of Ring: what the circle itself makes of their difference
}

// A SurveyCheck is a check of a survey that failed.
type SurveyCheck struct {
	Kind     CheckKind
	Machine  int // of Point, Copy and Shafts; else -1
	Point    int // index into the machine's points, of Point and Copy; else -1
	Coupling int // of Beside, BesideAngle and Sum, there the last one; else -1
	// of Copy the point that it is like, of Shafts the second shaft, of Sum the first coupling; else -1
	Other    int
	Size     float64     // mm; of BesideAngle mrad
	Limit    float64     // the same
	Expected float64     // 95 % half-width that the errors let expect, in the unit of Size; NaN where not known
	Cause    SurveyCause // that what failed speaks for
	Blamed   int         // machine, of APoint
}

// A SurveyCause is what a difference between survey and readings looks like.
type SurveyCause int

const (
	CauseUnclear  SurveyCause = iota
	CausePoint                // the two couplings of one machine differ the opposite ways: its points are off
	CauseMirror               // they agree with left and right of the survey swapped
	CauseReadings             // one coupling alone differs, its neighbours agree: what was read there is off
)

// A MistakeKind is a slip of reading or typing.
type MistakeKind int

const (
	MistakeSign  MistakeKind = iota // all readings of a dial, or v of an offset, have the other sign
	MistakeSides                    // 3 and 9 of a dial are swapped, or h of an offset has the other sign
	MistakeValue                    // one reading has the other sign or its decimal point one digit off
)

// A Mistake is one slip without which all readings of a coupling would agree.
type Mistake struct {
	Kind   MistakeKind
	Dial   int     // index into the coupling's dials
	At     int     // of Value: index of the position; of an offset 0: v, 1: h; else -1
	Value  float64 // mm, of Value: what it would be, as the dial shows it; else NaN
	Square float64 // sum of squares of what is left to the fit then, in standard errors of one reading
}
