// Package train holds a train of coupled machines as it stands: machines as
// rigid bodies with their shafts and feet, the couplings between them, how
// each machine grows as it warms, and the conditions it runs in. From that it
// works out the misalignment at every coupling, in two independent ways: as
// linear forms (forms.go), which an optimizer needs, and from true geometry
// (check.go), which has the last word on a plan.
//
// # Frame and signs
//
// x runs along the train from the first machine to the last, y is to the left
// looking that way, z is up; right-handed. A rigid body moved by a translation
// t = (axial, left, up) and a small rotation r = (roll, pitch, yaw) shifts its
// point p by
//
//	d(p) = t + r × p
//
// with p taken from the middle of the machine's feet at the shim plane (z = 0).
// So a positive pitch lowers what lies further along the train, a positive yaw
// swings it to the left, and a positive roll raises the left side.
//
// # Units
//
// Every length, move and offset in this package is in mm and every angle in
// mrad (mm per m), whatever the train file is written in: the file is
// converted once, when it is read. A limit that the file does not state is
// +Inf, a value that it does not state is NaN.
//
// A misalignment is the position of a coupling's To shaft against the extended
// centreline of its From shaft: offset + is high or left, angle + slopes up or
// points left as x grows.
package train

import "math"

// Units are the units that a train file is written in and that every output
// is given in. They don't change what this package computes with.
type Units int

const (
	Millimetres Units = iota // lengths and moves in mm
	Inches                   // lengths in inches, moves in mils (0.001 in)
)

// Mil and Inch are a mil and an inch in mm, exactly.
const (
	Mil  = 0.0254
	Inch = 25.4
)

// Length is the size in mm of the unit that lengths are written in.
func (u Units) Length() float64 {
	if u == Inches {
		return Inch
	}
	return 1
}

// Move is the size in mm of the unit that moves and offsets are written in.
func (u Units) Move() float64 {
	if u == Inches {
		return Mil
	}
	return 1
}

// Resolution is the finest move in mm that a plan asks for: what a dial shows.
func (u Units) Resolution() float64 {
	if u == Inches {
		return 0.5 * Mil
	}
	return 0.01
}

// String is the value of the train file's key `units`.
func (u Units) String() string {
	if u == Inches {
		return "inch"
	}
	return "mm"
}

// A Train is a row of machines, each coupled to the next.
type Train struct {
	Title      string
	Units      Units
	Sides      Sides
	Shims      Shims
	Errors     Errors
	Aim        Aim
	Relief     Relief
	Checks     Checks
	Machines   []Machine   // two or more, in the order of their stations; then the bases that carry some of them
	Couplings  []Coupling  // Couplings[i] joins Machines[i] to Machines[i+1]
	Conditions []Condition // one or more; the first is "running"
	Between    []Condition // WarmUp, where couplings must keep Aim.Transient in it too; nil: they need not
	Survey     *Survey     // what the machines' Points come to; nil without Points
}

// Sides are the site's words for the two sides of the train.
type Sides struct {
	Left, Right string // "left" and "right" where the file does not say
}

// Shims says what packs may be made.
type Shims struct {
	Step      float64   // mm, the finest change that the crew makes
	Keep      float64   // mm, pack that must stay under every foot
	Stock     []float64 // mm, thicknesses in stock, ascending; empty: not stated
	MaxPieces int       // most pieces in one pack; 0: not stated
	// of a machine: it stands on chocks or wedges, so that a foot can be set to any size; Step is as fine as one is told,
	// and there are no pieces
	Stepless bool
}

// ShimRules are those of one machine, in place of the train's.
type ShimRules struct {
	Step      float64   // mm; 0: that of the train
	Stepless  bool      // it stands on chocks or wedges; Step is as fine as a size is told
	Stock     []float64 // mm, thicknesses in stock, ascending; empty: those of the train
	MaxPieces int       // most pieces in one pack; 0: as the train has it
}

// Names are those of the machines, and of the bases behind them.
func (t *Train) Names() []string {
	names := make([]string, len(t.Machines))
	for i := range t.Machines {
		names[i] = t.Machines[i].Name
	}
	return names
}

// ShimsOf says what packs may be made under machine i.
func (t *Train) ShimsOf(i int) Shims {
	s, own := t.Shims, &t.Machines[i].Shims
	if own.Step > 0 {
		s.Step = own.Step
	}
	if len(own.Stock) > 0 {
		s.Stock = own.Stock
	}
	if own.MaxPieces > 0 {
		s.MaxPieces = own.MaxPieces
	}
	if s.Stepless = own.Stepless; s.Stepless {
		s.Stock, s.MaxPieces = nil, 0
	}
	return s
}

// Half95 is the half-width of a 95 % interval of a Gaussian, in standard deviations.
const Half95 = 1.959963984540054

// Errors are 95 % half-widths (Half95); all zero where the file states none. Zero is exact.
type Errors struct {
	Offset      float64       // mm, of a found offset
	Angle       float64       // mrad, of a found angle
	Placing     float64       // mm, of a sideways move as the crew sets it
	Growth      float64       // share of growth, and of a journal shift
	GrowthLeast float64       // mm, of growth and of a journal shift, beside that share
	Assumed     AssumedErrors // what the file leaves out
	Stated      bool          // the file has [errors], if only to say that all is exact
}

// AssumedErrors are the errors that the file leaves out, so that the defaults hold.
type AssumedErrors struct{ Offset, Angle, Placing, Growth, GrowthLeast bool }

// Aim is what a plan is asked to reach.
type Aim struct {
	Use       float64 // share of every coupling limit that the plan may use
	Chance    float64 // of ending within limits, that a plan must have in place of Use; 0: not stated
	Transient float64 // share of every coupling limit that may be used in warm-up; with Train.Between alone
	FixedCost float64 // mm, cost of moving a machine at all
	LeastMove float64 // mm, a foot moves by at least this or not at all; 0: not stated
	// mm, sideways and along the train: LeastMove, where that is not stated twice Errors.Placing. A pack is as thick as
	// it is marked, so that its change needs no such least.
	LeastPlaced float64
}

// LeastPlaced is how many half-widths of placing a move is at least, where no least is stated: one that the crew can't
// place is no move.
const LeastPlaced = 2

// Least is the least in mm that a foot is moved by: up or down by shims, else sideways or along the train. 0: no least.
func (a *Aim) Least(shims bool) float64 {
	if shims {
		return a.LeastMove
	}
	return math.Max(a.LeastMove, a.LeastPlaced)
}

// Relief is what options cost a crew, in units that only compare
// with each other, and how far each may go.
type Relief struct {
	Hole    float64 // per mm that a hole is opened, each
	Bolt    float64 // per mm that a bolt's shank is turned down, each
	Pack    float64 // per mm of pack made at a foot, from the foot or the base
	Raise   float64 // per mm more that may go into a pack, at each foot: spacers, longer bolts
	Axial   float64 // for shifting a machine along the train at all
	Roll    float64 // for setting a machine's left and right packs apart at all
	Release float64 // for moving a machine that is held at all
	Open    float64 // mm, most that a hole is opened: what a plate washer covers
	Cut     float64 // mm, most that may be taken off a foot or a base

	AxialPerMM float64 // per mm that a machine is shifted along the train, beside Axial
	AxialMost  float64 // mm, most that a machine is shifted along the train where no bolt in its hole bounds it
}

// A Machine is one rigid body on its feet.
type Machine struct {
	Name     string
	At       float64 // mm, train station of the machine's own x = 0
	Height   float64 // mm, shaft centreline above the shim plane; of a base see base.go
	RPM      float64 // 1/min, NaN where not stated
	Hold     bool    // may not be moved; it still grows
	Roll     bool    // left and right packs may differ
	Axial    bool    // may be shifted along the train
	Effort   float64 // how much harder than usual it is to move, 1 = as usual
	Flat     float64 // mm, most soft foot that its packs may leave
	Residual float64 // mm, most soft foot that what fills its gaps leaves, which its packs may too
	Level    Level
	Shafts   []Shaft // one or more
	Shims    ShimRules
	Feet     []Foot
	Growth   Growth // of the case, from cold to running
	Nozzles  []Nozzle
	Points   []Point // of a survey
	Carries  []int   // machines that stand on it, ascending: it is a base, without shafts; nil: it is none
}

// Level says how far from level a machine may stand.
type Level struct {
	Pitch, Roll           float64 // mrad, most that it may stand off level; +Inf: not stated
	FoundPitch, FoundRoll float64 // mrad, as it stands, signs as in the package comment
	// The file does not say how it stands, which counts as level.
	PitchUnknown, RollUnknown bool
}

// A Shaft lies parallel to the machine's centreline.
type Shaft struct {
	Name string  // "" for the only shaft of a machine that names none
	Y    float64 // mm from the machine's centreline, + left
	Z    float64 // mm above the machine's Height
	RPM  float64 // 1/min, NaN where not stated
	Run  Shift   // of the loaded shaft within its bearings
	// The file does not say how it shifts, which counts as not at all.
	RunUnknown bool
	Clearance  float64 // mm, diametral, of its bearings; 0: not stated
	Growth     *Growth // in place of the machine's growth; nil: the machine's
}

// A Shift is a parallel displacement of a shaft.
type Shift struct {
	V, H float64 // mm, + up and + left
}

// A Line is a value that changes evenly along a machine.
type Line struct {
	Start float64 // mm, at the machine's own x = 0
	Slope float64 // mrad
}

// At is the line's value in mm at the machine's own station x in mm.
func (l Line) At(x float64) float64 { return l.Start + l.Slope*x/1000 }

// Growth is how a machine's shaft moves from cold to running.
type Growth struct {
	V, H, A Line    // up, left, along the train
	Roll    float64 // mrad, of the case; + raises the left side
	Worked  bool    // worked out from temperature rise, not given or measured
	Unknown bool    // the file does not say how it grows upwards, which counts as not at all
	// The file does not say how it grows along the train, which counts as not at all.
	AxialUnknown bool
}

// A Foot is one place where a machine stands on its base.
type Foot struct {
	Name   string    // "exhaust left"
	X      float64   // mm, in the machine's own stations
	Y      float64   // mm from the machine's centreline, + left
	Pack   float64   // mm, shims under it now; NaN: not stated
	Pieces []float64 // mm, the shims that the pack is made of, from the base up; nil: not stated
	// mm, taken off the foot or its base since the pack was read: Lower has it, and as much more must go in to stand the
	// same
	Cut         float64
	Soft        float64    // mm, gap measured under it with its bolt loose; 0: none
	SoftUnknown bool       // the file does not say whether there is a gap, which counts as none
	Filled      float64    // mm of Pack, Lower and Raise: what fills that gap, where it counts as filled; 0: it does not
	Excess      float64    // mm, how far its pack is above the plane of the machine's packs before any move, + too thick
	Lower       float64    // mm, most that may come out; +Inf: not stated
	Raise       float64    // mm, most that may be added; +Inf: not stated
	Bolt, Hole  float64    // mm, diameters; NaN: not stated
	Fitted      bool       // Hole is a standard's for the bolt, not measured
	Minor       float64    // mm, minor diameter of the bolt's thread; 0: not known
	BoltAt      [2]float64 // mm, the bolt from the hole's centre: axial, left
	Free        float64    // mm, clearance between bolt and hole that must be left
	Slide       [2]float64 // mm, axial and left, that it slides on its base from cold to running; 0: not, or not known
	TravelLeft  float64    // mm, most that it may move left; +Inf: not stated
	TravelRight float64    // mm, most that it may move right; +Inf: not stated
}

// A Nozzle is a point of a machine that its pipes hold on to.
type Nozzle struct {
	Name  string
	X     float64 // mm, in the machine's own stations
	Y     float64 // mm from the machine's centreline, + left
	Z     float64 // mm above the shim plane
	Limit float64 // mm, most that it may be displaced, in any direction
}

// An End is the shaft that a coupling sits on.
type End struct {
	Machine, Shaft int // indices into Train.Machines and Machine.Shafts
}

// A Coupling joins the shafts of two neighbouring machines.
type Coupling struct {
	Name      string
	From, To  End
	RPM       float64 // 1/min, NaN where nothing states it
	X         float64 // mm, train station of the plane where offsets are given
	Spacer    bool    // two flex planes; else one engagement plane, at X
	Flex      [2]float64
	Limit     Limit
	Found     Misalignment // as read: with Taken of growth and journal shift
	Dials     []Dial       // that Found was worked out from; empty: Found was given, or Surveyed
	Fit       *Fit         // of Dials, which Found is taken from; nil without Dials
	Surveyed  bool         // Found was worked out from the machines' Points
	FoundGap  float64      // mm between shaft ends as read; NaN: not stated
	Targets   []Dial       // without readings: what else is to be put on after the moves
	Taken     Share
	Wanted    Misalignment // in the running condition
	WantedGap float64      // mm between shaft ends; NaN: not stated
}

// A Limit says how close a coupling must be.
type Limit struct {
	Offset    float64 // mm, at the engagement plane; +Inf on a spacer coupling
	Angle     float64 // mrad, between the shafts, or at each flex plane of a spacer
	Gap       float64 // mm off the wanted distance between shaft ends; +Inf: not stated
	EachPlane bool    // limits hold for vertical and horizontal each, not combined
	Combined  bool    // what offset, angle and gap use of their limits adds up to at most 1
}

// A Misalignment is that of a coupling's To shaft against its From shaft.
type Misalignment struct {
	V, H Tilt // vertical: + high, sloping up; horizontal: + left, pointing left
}

// A Tilt is a misalignment in one plane.
type Tilt struct {
	Offset float64 // mm, at the coupling's X
	Angle  float64 // mrad
}

// A Share says how much of growth and of the shafts' journal shift is there.
type Share struct {
	Growth, Run float64 // 0 = cold and at standstill, 1 = running
	Own         *Growth // all of the growth, whatever the share says; nil: a share of the machine's
}

// An OwnGrowth is the growth that one machine has in one condition.
type OwnGrowth struct {
	Machine int
	Growth  Growth
}

// A Condition is a state of the train in which its couplings must be within
// limits.
type Condition struct {
	Name   string
	Growth []float64   // share of growth, one for each of Train.Machines
	Own    []OwnGrowth // of machines that have growth of this state's own, in place of a share
	Run    float64     // share of the shafts' journal shift
	Use    float64     // share of the coupling limits that may be used
}

// ShaftName names a shaft as the train file does: MACHINE or MACHINE/SHAFT.
func (t *Train) ShaftName(e End) string {
	m := &t.Machines[e.Machine]
	if s := m.Shafts[e.Shaft].Name; s != "" {
		return m.Name + "/" + s
	}
	return m.Name
}

// GapLimited says whether the distance between the coupling's shaft ends is
// found, wanted and limited, so that a plan must keep it.
func (c *Coupling) GapLimited() bool {
	return !math.IsNaN(c.FoundGap) && !math.IsNaN(c.WantedGap) && !math.IsInf(c.Limit.Gap, 1)
}

// Planes are the train stations in mm at which the coupling gives way: its flex
// planes, else the plane of the offsets.
func (c *Coupling) Planes() []float64 {
	if c.Spacer {
		return c.Flex[:]
	}
	return []float64{c.X}
}

// FaceX are the stations in mm of the From and the To shaft's end, where the
// distance between shaft ends is measured: the flex planes of a spacer, else
// the plane of the offsets.
func (c *Coupling) FaceX() (from, to float64) {
	if c.Spacer {
		return c.Flex[0], c.Flex[1]
	}
	return c.X, c.X
}
