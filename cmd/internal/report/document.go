package report

import (
	"leastmove/cmd/internal/words"
	"leastmove/optimize"
)

// The forms of a plan in JSON, in the order of their keys. Lengths are in the
// file's own (mm or inches), moves and offsets in mm or mils, angles in mrad;
// signs are those of package train. A number is "" where it does not exist.

type planDoc struct {
	Schema   string       `json:"schema"`
	Title    string       `json:"title"`
	Units    unitsDoc     `json:"units"`
	Sides    sidesDoc     `json:"sides"`
	Relieved *relievedDoc `json:"relieved,omitempty"` // the way out that the planned train has
	Status   string       `json:"status"`
	// The readings were taken on feet that did not bear: read again first.
	Provisional bool `json:"provisional"`
	// What was made least where it is not the total, its own measure, and what is
	// proven of that.
	Strategy   optimize.Strategy `json:"strategy,omitempty"`
	First      words.Number      `json:"first,omitempty"`
	FirstBound words.Number      `json:"first_bound,omitempty"`
	Cut        string            `json:"cut,omitempty"`   // why the search ended early
	Total      words.Number      `json:"total,omitempty"` // moves, weights of the file in it
	Plain      words.Number      `json:"plain,omitempty"` // moves, without weights
	Least      words.Number      `json:"least,omitempty"` // moves, smallest total found
	Bound      words.Number      `json:"bound"`           // moves, proven; rounded down
	Gap        words.Number      `json:"gap,omitempty"`   // share of total between bound and total; rounded up
	Peak       words.Number      `json:"peak,omitempty"`  // moves, largest at a foot
	Moved      *int              `json:"moved,omitempty"` // machines
	Use        aimDoc            `json:"use"`
	Lowest     words.Number      `json:"lowest,omitempty"` // share of a limit, proven; rounded down
	Machines   []machineDoc      `json:"machines,omitempty"`
	Couplings  []couplingDoc     `json:"couplings"`
	Survey     *surveyDoc        `json:"survey,omitempty"`
	Assurance  *assuranceDoc     `json:"assurance,omitempty"` // the chance that was asked for
	Chance     *chanceDoc        `json:"chance,omitempty"`
	Ends       []endDoc          `json:"ends,omitempty"`
	Prices     []priceDoc        `json:"prices,omitempty"`
	Worth      []worthDoc        `json:"worth,omitempty"`
	Packs      []piecesDoc       `json:"packs,omitempty"`
	Shims      []shimDoc         `json:"shims,omitempty"`
	Soft       []softDoc         `json:"soft,omitempty"`
	Clash      []memberDoc       `json:"clash,omitempty"`
	Relief     []reliefDoc       `json:"relief,omitempty"`
	Hopeless   bool              `json:"hopeless,omitempty"` // proven: nothing but wider coupling limits helps
	Given      *givenDoc         `json:"given,omitempty"`    // what is to be said of moves that someone gave
	Unstated   []string          `json:"unstated"`
	Warnings   []warningDoc      `json:"warnings"`
	Solves     int               `json:"solves"`
}

type unitsDoc struct {
	Length string `json:"length"`
	Move   string `json:"move"`
	Angle  string `json:"angle"`
}

type sidesDoc struct {
	Left  string `json:"left"`
	Right string `json:"right"`
}

// Shares of the limits.
type aimDoc struct {
	Aim     words.Number `json:"aim"`
	Reached words.Number `json:"reached"`
	Kept    words.Number `json:"kept,omitempty"` // that least and bound speak of; rounded down
}

type machineDoc struct {
	Name    string      `json:"name"`
	Moved   bool        `json:"moved"`
	Held    bool        `json:"held"`
	Feet    []footDoc   `json:"feet"`
	Level   *levelDoc   `json:"level,omitempty"`
	Nozzles []nozzleDoc `json:"nozzles,omitempty"`
}

// How far off level a machine stands after the moves: mrad, + pitch lowers what
// lies further along, + roll raises the left side.
type levelDoc struct {
	Pitch levelValueDoc `json:"pitch"`
	Roll  levelValueDoc `json:"roll"`
}

type levelValueDoc struct {
	Value words.Number `json:"value"`
	Limit words.Number `json:"limit"` // null: not stated
}

type footDoc struct {
	Name   string         `json:"name"`
	X      words.Number   `json:"x"`              // length, in the machine's own stations
	Y      words.Number   `json:"y"`              // length, + left of the machine's centreline
	Up     words.Number   `json:"up"`             // move, + shims added
	Left   words.Number   `json:"left"`           // move, + to the left
	Axial  words.Number   `json:"axial"`          // move, + toward the last machine
	Cut    words.Number   `json:"cut,omitempty"`  // move, off the foot or its base first; as much more goes into the pack
	Fill   words.Number   `json:"fill,omitempty"` // move, into the gap found under it; goes into the pack besides, and is no move
	Pack   *packDoc       `json:"pack,omitempty"`
	Soft   words.Number   `json:"soft"` // move, soft foot that the packs leave, + proud
	Room   leftDoc        `json:"room"` // what is left to it
	Limits []footLimitDoc `json:"limits"`
}

// How much further a foot can go each way on its own, in moves; null: no limit.
type leftDoc struct {
	Up    words.Number `json:"up"`
	Down  words.Number `json:"down"`
	Left  words.Number `json:"left"`
	Right words.Number `json:"right"`
}

type packDoc struct {
	Now  words.Number `json:"now"`  // move, as the file has it
	Then words.Number `json:"then"` // move, with what fills a gap under it
}

type footLimitDoc struct {
	Kind  optimize.LimitKind `json:"kind"`
	Value words.Number       `json:"value"` // move
	Limit words.Number       `json:"limit"` // move
}

type nozzleDoc struct {
	Name  string       `json:"name"`
	Value words.Number `json:"value"` // move, displacement in any direction
	Limit words.Number `json:"limit"` // move; null: not stated
}

type couplingDoc struct {
	Name   string         `json:"name"`
	From   string         `json:"from"`
	To     string         `json:"to"`
	X      words.Number   `json:"x"`              // length, station of the offsets
	Flex   []words.Number `json:"flex,omitempty"` // length, stations of the flex planes
	States []stateDoc     `json:"states"`
	Driven string         `json:"driven_by,omitempty"` // condition in which the plan takes up most of its limits
	// What it was read with, and what that came to.
	Readings *readingsDoc `json:"readings,omitempty"`
	Cold     *restDoc     `json:"cold,omitempty"` // to be read cold and at standstill for what is wanted when running
	Rest     *restDoc     `json:"rest,omitempty"` // to be read after the moves, cold and at standstill
}

type stateDoc struct {
	Condition string      `json:"condition"`
	Use       sharesDoc   `json:"use"`
	Worst     worstDoc    `json:"worst"`
	Found     readingDoc  `json:"found"`
	Planned   *readingDoc `json:"planned,omitempty"`
}

// Shares of the limit that is taken up most; 1 is at the limit.
type sharesDoc struct {
	Found   words.Number `json:"found"`
	Planned words.Number `json:"planned,omitempty"`
}

// What takes up most of its limit, in words.
type worstDoc struct {
	Found   string `json:"found"`
	Planned string `json:"planned,omitempty"`
}

// How the `to` shaft stands against the `from` shaft.
type readingDoc struct {
	V   tiltDoc      `json:"v"`
	H   tiltDoc      `json:"h"`
	Gap words.Number `json:"gap,omitempty"` // length between shaft ends
}

type restDoc struct {
	readingDoc
	Flex  []flexDoc   `json:"flex,omitempty"`
	Dials []targetDoc `json:"dials,omitempty"` // what the dials that read it are to show
}

// The angle across a flexing element in mrad, + climbing or turning left.
type flexDoc struct {
	X words.Number `json:"x"` // length
	V words.Number `json:"v"`
	H words.Number `json:"h"`
}

type tiltDoc struct {
	Offset words.Number `json:"offset"` // move, + high or left
	Angle  words.Number `json:"angle"`  // mrad, + climbing or turning left
}

type limitDoc struct {
	Kind      optimize.LimitKind `json:"kind"`
	Machine   string             `json:"machine,omitempty"`
	Foot      string             `json:"foot,omitempty"`
	Nozzle    string             `json:"nozzle,omitempty"`
	Coupling  string             `json:"coupling,omitempty"`
	Condition string             `json:"condition,omitempty"`
}

type memberDoc struct {
	limitDoc
	Short words.Number `json:"short,omitempty"` // move, mrad or (gap) length, that it alone would have to give
	Line  int          `json:"line,omitempty"`  // of the train file
}

type relievedDoc struct {
	Number int                     `json:"number"`
	Kind   optimize.RelaxationKind `json:"kind"`
	Text   string                  `json:"text"`
	Edits  []editDoc               `json:"edits"`
}

type reliefDoc struct {
	Kind  optimize.RelaxationKind `json:"kind"`
	Text  string                  `json:"text"`
	Edits []editDoc               `json:"edits"`
	Cost  words.Number            `json:"cost"`
	Least words.Number            `json:"least,omitempty"` // cost before rounding to what a shop does
	Total words.Number            `json:"total"`           // moves, of a plan that it makes possible
	Bound words.Number            `json:"bound"`           // moves, proven; rounded down
}

// From and To are in the unit that the key has in the train file.
type editDoc struct {
	Machine  string `json:"machine,omitempty"`
	Foot     string `json:"foot,omitempty"` // or the table of a pair of feet
	Coupling string `json:"coupling,omitempty"`
	Key      string `json:"key"`
	From     any    `json:"from"` // a number or a bool
	To       any    `json:"to"`
}

type worthDoc struct {
	endDoc
	Feet     []string     `json:"feet,omitempty"` // whose limits change together
	Price    words.Number `json:"price"`          // moves of the total for each unit of the limit, whole steps left out
	By       words.Number `json:"by"`             // in the unit of value and limit; of a hole's diameter for "bolt"
	AtMost   words.Number `json:"at_most"`        // moves, proven; null: not known
	Wider    words.Number `json:"wider"`          // moves, whole steps left out; null: not known
	Closer   words.Number `json:"closer"`         // moves, whole steps left out; null: not known, or not to be kept
	NoCloser bool         `json:"impossible"`     // limit closer by that: can't be kept within this share
}

// The shims under a foot, in moves, from the base up.
type piecesDoc struct {
	Machine string         `json:"machine"`
	Foot    string         `json:"foot"`
	Now     []words.Number `json:"now" schema:"nullable"` // null: not stated
	Out     []words.Number `json:"out"`
	In      []words.Number `json:"in"`
	Then    []words.Number `json:"then" schema:"nullable"` // null: not stated
}

type shimDoc struct {
	Thickness words.Number `json:"thickness"` // move
	Count     int          `json:"count"`
}

type softDoc struct {
	Machine string       `json:"machine"`
	Foot    string       `json:"foot"`
	Gap     words.Number `json:"gap"`  // move, as measured
	Fill    words.Number `json:"fill"` // move, to be put under it first
}

type endDoc struct {
	limitDoc
	Value words.Number `json:"value"` // move, mrad or (gap) length, by the kind
	Limit words.Number `json:"limit"`
}

type priceDoc struct {
	Use        words.Number `json:"use"`        // share of the limits
	Total      words.Number `json:"total"`      // moves; null: no plan was found
	Bound      words.Number `json:"bound"`      // moves, proven; rounded down
	Impossible bool         `json:"impossible"` // proven: there is no plan
}

type warningDoc struct {
	File    string `json:"file,omitempty"` // the file of bands; left out: the train file
	Line    int    `json:"line"`
	Column  int    `json:"column"`
	Message string `json:"message"`
}
