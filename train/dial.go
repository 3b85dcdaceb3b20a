package train

// A DialKind is what kind of instrument showed a reading.
type DialKind int

const (
	RimDial    DialKind = iota // a dial on a rim
	FaceDial                   // a dial on a face
	OffsetDial                 // offsets at a plane, from any instrument
)

// String is the word that the train file has for it.
func (k DialKind) String() string { return [...]string{"rim", "face", "offset"}[k] }

// A Dial is what one instrument showed at a coupling. Readings and sag are as
// they were read, in the dial's own direction; package train/readings says what
// follows from them.
type Dial struct {
	Kind     DialKind
	OnFrom   bool      // the plunger touches the From shaft, the bracket sits on the To shaft; else the other way
	X        float64   // mm, train station of the plunger or of the offsets; NaN at a face
	Radius   float64   // mm, from the shaft's centre to the plunger; NaN: not stated
	Away     bool      // of a face: it looks away from the coupling's gap
	Reversed bool      // the dial reads less as its plunger is pushed in
	Sag      float64   // mm, what the bracket reads at 6 on a sag bar, zeroed at 12; NaN: not stated
	Pair     bool      // of a face: Values are half the difference of two dials half a turn apart, without axial float
	Range    float64   // mm, of the plunger's travel; 0: not stated
	Set      int       // readings of one pass have one number, from 1
	Error    float64   // mm, 95 % half-width of one reading; 0: not stated
	Angles   []float64 // degrees clockwise from 12, seen looking from the first machine to the last
	Values   []float64 // mm, what the dial read there
	V, H     float64   // mm, of an OffsetDial: To against From, + high and + left; NaN: not stated
}

// Checks say from where on readings get a warning.
type Checks struct {
	Ring     float64 // mm, by which top and bottom may differ from left and right
	Return   float64 // mm, by which a position read twice may differ
	Residual float64 // mm, by which a reading may be off the fit
	Repeat   float64 // mm, by which two passes may differ where the plungers were
	Method   float64 // mm, by which two kinds of reading may differ at the plunger
	Span     float64 // mm, of a bracket, from which on its sag is asked for
	Survey   float64 // mm, by which a survey and what was read may differ, at a coupling and round the train
	Turned   float64 // mrad, the same of the angle at a coupling
}
