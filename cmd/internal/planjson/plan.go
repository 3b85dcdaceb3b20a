package planjson

// PlanSchema names the form of a plan. What it has keeps its name and meaning; other
// keys may be added.
const PlanSchema = "leastmove.plan/1"

// A Plan is what `plan`, and `plan --plan`, write.
type Plan struct {
	Schema   string    `json:"schema" about:"name and version of this form" hand:"read"`
	Title    string    `json:"title" about:"title of the train file" hand:"passed"`
	Called   string    `json:"number,omitempty" about:"number that sheets and reports of this plan bear"`
	Units    Units     `json:"units" about:"units of all numbers here" hand:"read"`
	Sides    Sides     `json:"sides" about:"the site's own words for the sides"`
	Relieved *Relieved `json:"relieved,omitempty" about:"the option that the planned train has"`
	Status   string    `json:"status" about:"planned, within, tried, impossible (proven) or undecided" hand:"read"`

	Provisional bool   `json:"provisional" about:"read again first: feet were soft when the readings were taken"`
	Strategy    string `json:"strategy,omitempty" about:"what was made least, where it is not the total"`
	First       Number `json:"first,omitempty" about:"the strategy's own measure of this plan" unit:"measure"`
	FirstBound  Number `json:"first_bound,omitempty" about:"what is proven of that measure" unit:"measure"`
	Cut         string `json:"cut,omitempty" about:"why the search ended early"`

	Total           Number `json:"total,omitempty" about:"sum of all moves, in size, rounded up" unit:"weighted"`
	Plain           Number `json:"plain,omitempty" about:"sum of all moves, in size, without weights" unit:"move"`
	Least           Number `json:"least,omitempty" about:"smallest total that was found" unit:"weighted"`
	Bound           Number `json:"bound" about:"proven lower bound on the total, rounded down" unit:"weighted"`
	FirstOrderBound Number `json:"first_order_bound,omitempty" about:"by linear equations, where higher" unit:"weighted"`
	Gap             Number `json:"gap,omitempty" about:"part of the total above the bound, rounded up" unit:"share"`
	Peak            Number `json:"peak,omitempty" about:"largest move at a foot, in size" unit:"move"`
	Moved           *int   `json:"moved,omitempty" about:"count of machines that move"`

	Verdict *PlanVerdict `json:"verdict,omitempty" about:"whether the plan is to be carried out"`
	Plans   []OtherPlan  `json:"plans,omitempty" about:"other plans, and this one among them"`

	Use    Aim    `json:"use" about:"shares of the coupling limits that are used"`
	Lowest Number `json:"lowest,omitempty" about:"no plan has a worst share below this, proven" unit:"share"`

	Machines  []Machine  `json:"machines,omitempty" about:"every machine, in the order of the train" hand:"read"`
	Couplings []Coupling `json:"couplings" about:"every coupling, in the order of the train" hand:"passed"`
	Survey    *Survey    `json:"survey,omitempty" about:"what the points of a survey come to"`
	Assurance *Assurance `json:"assurance,omitempty" about:"the probability that was asked for"`
	Chance    *Chance    `json:"chance,omitempty" about:"probability that the couplings end within limits"`
	Ends      []End      `json:"ends,omitempty" about:"active constraints: limits that the plan just meets"`
	Worth     []Worth    `json:"worth,omitempty" about:"what limits cost, the largest saving first; at most 40"`
	Packs     []Pieces   `json:"packs,omitempty" about:"shim packs, shim by shim"`
	Shims     []Shim     `json:"shims,omitempty" about:"shims to be put in, by thickness"`
	Soft      []Soft     `json:"soft,omitempty" about:"soft feet, to be filled first"`

	Nearest    *Nearest `json:"nearest,omitempty" about:"undecided: the moves that miss coupling limits by least"`
	FirstOrder bool     `json:"first_order,omitempty" about:"undecided: conflict and options hold to first order"`

	Clash    []Member  `json:"clash,omitempty" about:"conflict: limits that can't be kept together, none to spare"`
	Relief   []Relief  `json:"relief,omitempty" about:"options: changes that make a plan possible, the least first"`
	Hopeless bool      `json:"hopeless,omitempty" about:"proven: nothing but wider coupling limits helps"`
	Given    *Given    `json:"given,omitempty" about:"what is to be said of moves that someone gave"`
	Unstated []string  `json:"unstated" about:"what the train file does not state, so is taken for free"`
	Warnings []Warning `json:"warnings" about:"what to check in the train file"`
	Solves   int       `json:"solves" about:"count of continuous problems that were solved"`

	Place Place `json:"-"`
}

// A Nearest are the moves that keep every limit but those of couplings, and pass these by least.
type Nearest struct {
	Total    Number    `json:"total" about:"sum of all moves, in size, rounded up" unit:"weighted"`
	Reached  Number    `json:"reached" about:"largest share of a limit, rounded up" unit:"share"`
	Machines []Machine `json:"machines" about:"every machine with its moves, as in a plan"`
}

// Units are those of all numbers of a document.
type Units struct {
	Length string `json:"length" about:"mm or inch: stations, gaps between shaft ends"`
	Move   string `json:"move" about:"mm or mil: moves, shims, offsets"`
	Angle  string `json:"angle" about:"mrad: angles"`
}

// Sides are the site's own words for left and right.
type Sides struct {
	Left  string `json:"left" about:"word for left, + in numbers"`
	Right string `json:"right" about:"word for right, - in numbers"`
}

// An Aim is how far the coupling limits are used.
type Aim struct {
	Aim     Number `json:"aim" about:"largest share of a limit that was asked for" unit:"share"`
	Reached Number `json:"reached" about:"largest share of a limit by this plan, rounded up" unit:"share"`
	Kept    Number `json:"kept,omitempty" about:"share that least and bound are for, rounded down" unit:"share"`
}

// A Warning is what to check in a train file.
type Warning struct {
	File    string `json:"file,omitempty" about:"file of bands; left out: the train file"`
	Line    int    `json:"line" about:"line in it, from 1"`
	Column  int    `json:"column" about:"column in it, in characters, from 1"`
	Message string `json:"message" about:"what to check"`
}

// A Limit is one limit of a train by its names.
type Limit struct {
	Kind      string `json:"kind" about:"what is limited: lower, raise, bolt, travel, nozzle, offset, angle and so on"`
	Machine   string `json:"machine,omitempty" about:"machine that it is a limit of"`
	Foot      string `json:"foot,omitempty" about:"foot that it is a limit of"`
	Nozzle    string `json:"nozzle,omitempty" about:"nozzle that it is a limit of"`
	Coupling  string `json:"coupling,omitempty" about:"coupling that it is a limit of"`
	Condition string `json:"condition,omitempty" about:"condition in which it is meant"`
}

// An End is a limit with what is used of it.
type End struct {
	Limit
	Value Number `json:"value" about:"what is used of it, in size" unit:"limit"`
	Bound Number `json:"limit" about:"how much may be used of it" unit:"limit"`
}

// A Worth is what one limit, or those of some feet together, cost.
type Worth struct {
	End
	Feet     []string `json:"feet,omitempty" about:"feet whose limits change together"`
	Price    Number   `json:"price" about:"shadow price, whole steps left out" unit:"price"`
	By       Number   `json:"by" about:"change of the limit tried; of a bolt, of its hole's diameter" unit:"limit"`
	AtMost   Number   `json:"at_most" about:"most that the wider limit can save, proven; null: not known" unit:"weighted"`
	Wider    Number   `json:"wider" about:"what the total falls by, the limit wider; null: not known" unit:"weighted"`
	Closer   Number   `json:"closer" about:"what it rises by, the limit closer; null: not known or none" unit:"weighted"`
	NoCloser bool     `json:"impossible" about:"with the limit closer by that there is no plan within this share"`
}
