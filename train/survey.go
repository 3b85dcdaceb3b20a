package train

// A Survey is what points that were measured in one frame for the whole train
// come to: lines of the shafts, and from these what stands between the two
// shafts of a coupling. Points fit the shafts of one machine by one slope and a
// place for each. V and H have the same errors.
type Survey struct {
	Lines     []SurveyLine     // of shafts with points, in the order of the train
	Couplings []SurveyCoupling // of couplings between two shafts whose lines are known
	Closures  []Closure        // sums along couplings that were read too
	Accuracy                   // of the points of all machines
	Checks    []SurveyCheck    // that failed
}

// A SurveyLine is one shaft as its points have it.
type SurveyLine struct {
	Machine, Shaft int
	Points         []int     // indices into the machine's points
	X              float64   // mm, train station in the middle of the machine's points
	V, H           float64   // mm there, in the survey's frame
	SlopeV, SlopeH float64   // mrad, of all shafts of the machine
	Half           Tilt      // 95 % half-widths of V and H, and of the slopes; NaN where not known
	OffV, OffH     []float64 // mm, of each point from the line
}

// A SurveyCoupling is a coupling as the survey has it.
type SurveyCoupling struct {
	Coupling int
	Found    Misalignment
	Half     Tilt    // 95 % half-widths, of vertical and horizontal alike; NaN where not known
	Far      float64 // mm, 95 % half-width of the line at the farthest foot; NaN where not known
	Lent     [2]int  // shafts that the lines of From and To are taken from by y and z; -1: they have points
	// Of a coupling that was read or given too; Read is false where it was not.
	Read  bool
	Apart Misalignment // the survey less what was read
	Error Tilt         // 95 % half-widths of Apart; NaN where not known
}

// A Closure is the closure error of a train: along couplings that were both read and
// surveyed, from the shaft before the first to the shaft behind the last by
// what was read, and back by the survey. Without errors it is zero.
//
//	sum = Σ (survey - read) of the offset at X + (survey - read) of the angle × (X - x) / 1000
//
// with x the plane of each coupling and X that of the last.
type Closure struct {
	First, Last int     // couplings
	X           float64 // mm, train station that it is taken at: the plane of the last coupling
	V, H        Tilt    // mm and mrad that are left
	Error       Tilt    // 95 % half-widths that the errors of points and readings let expect; NaN where not known
}
