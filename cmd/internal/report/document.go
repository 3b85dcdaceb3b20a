package report

import "leastmove/optimize"

// The forms of a plan in JSON, in the order of their keys. Lengths are in the
// file's own (mm or inches), moves and offsets in mm or mils, angles in mrad;
// signs are those of package train. A number is "" where it does not exist.

type planDoc struct {
	Schema    string        `json:"schema"`
	Title     string        `json:"title"`
	Units     unitsDoc      `json:"units"`
	Sides     sidesDoc      `json:"sides"`
	Status    string        `json:"status"`
	Cut       string        `json:"cut,omitempty"`   // why the search ended early
	Total     number        `json:"total,omitempty"` // moves, weights of the file in it
	Plain     number        `json:"plain,omitempty"` // moves, without weights
	Least     number        `json:"least,omitempty"` // moves, smallest total found
	Bound     number        `json:"bound"`           // moves, proven; rounded down
	Gap       number        `json:"gap,omitempty"`   // share of total between bound and total; rounded up
	Peak      number        `json:"peak,omitempty"`  // moves, largest at a foot
	Moved     *int          `json:"moved,omitempty"` // machines
	Use       aimDoc        `json:"use"`
	Lowest    number        `json:"lowest,omitempty"` // share of a limit, proven; rounded down
	Machines  []machineDoc  `json:"machines,omitempty"`
	Couplings []couplingDoc `json:"couplings"`
	Ends      []endDoc      `json:"ends,omitempty"`
	Prices    []priceDoc    `json:"prices,omitempty"`
	Clash     []limitDoc    `json:"clash,omitempty"`
	Unstated  []string      `json:"unstated"`
	Warnings  []warningDoc  `json:"warnings"`
	Solves    int           `json:"solves"`
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
	Aim     number `json:"aim"`
	Reached number `json:"reached"`
}

type machineDoc struct {
	Name    string      `json:"name"`
	Moved   bool        `json:"moved"`
	Held    bool        `json:"held"`
	Feet    []footDoc   `json:"feet"`
	Nozzles []nozzleDoc `json:"nozzles,omitempty"`
}

type footDoc struct {
	Name   string         `json:"name"`
	X      number         `json:"x"`     // length, in the machine's own stations
	Y      number         `json:"y"`     // length, + left of the machine's centreline
	Up     number         `json:"up"`    // move, + shims added
	Left   number         `json:"left"`  // move, + to the left
	Axial  number         `json:"axial"` // move, + toward the last machine
	Pack   *packDoc       `json:"pack,omitempty"`
	Limits []footLimitDoc `json:"limits"`
}

type packDoc struct {
	Now  number `json:"now"`
	Then number `json:"then"`
}

type footLimitDoc struct {
	Kind  optimize.LimitKind `json:"kind"`
	Value number             `json:"value"` // move
	Limit number             `json:"limit"` // move
}

type nozzleDoc struct {
	Name  string `json:"name"`
	Value number `json:"value"` // move, displacement in any direction
	Limit number `json:"limit"` // move; null: not stated
}

type couplingDoc struct {
	Name   string     `json:"name"`
	From   string     `json:"from"`
	To     string     `json:"to"`
	States []stateDoc `json:"states"`
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
	Found   number `json:"found"`
	Planned number `json:"planned,omitempty"`
}

// What takes up most of its limit, in words.
type worstDoc struct {
	Found   string `json:"found"`
	Planned string `json:"planned,omitempty"`
}

// How the `to` shaft stands against the `from` shaft.
type readingDoc struct {
	V   tiltDoc `json:"v"`
	H   tiltDoc `json:"h"`
	Gap number  `json:"gap,omitempty"` // length between shaft ends
}

type tiltDoc struct {
	Offset number `json:"offset"` // move, + high or left
	Angle  number `json:"angle"`  // mrad, + climbing or turning left
}

type limitDoc struct {
	Kind      optimize.LimitKind `json:"kind"`
	Machine   string             `json:"machine,omitempty"`
	Foot      string             `json:"foot,omitempty"`
	Nozzle    string             `json:"nozzle,omitempty"`
	Coupling  string             `json:"coupling,omitempty"`
	Condition string             `json:"condition,omitempty"`
}

type endDoc struct {
	limitDoc
	Value number `json:"value"` // move, mrad or (gap) length, by the kind
	Limit number `json:"limit"`
}

type priceDoc struct {
	Use        number `json:"use"`        // share of the limits
	Total      number `json:"total"`      // moves; null: no plan was found
	Bound      number `json:"bound"`      // moves, proven; rounded down
	Impossible bool   `json:"impossible"` // proven: there is no plan
}

type warningDoc struct {
	Line    int    `json:"line"`
	Column  int    `json:"column"`
	Message string `json:"message"`
}
