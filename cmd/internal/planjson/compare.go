package planjson

// CompareSchema names the form of ways side by side.
const CompareSchema = "leastmove.compare/1"

// A Compare is what `compare` writes: ways of moving a train side by side.
type Compare struct {
	Schema   string    `json:"schema" about:"name and version of this form"`
	Title    string    `json:"title" about:"title of the train file"`
	Units    Units     `json:"units" about:"units of all numbers here"`
	Found    Number    `json:"found" about:"share of the limit that is used most before the moves" unit:"share"`
	Held     []string  `json:"held,omitempty" about:"machines held on the command line"`
	Freed    []string  `json:"freed,omitempty" about:"machines freed on the command line"`
	Ways     []Way     `json:"ways" about:"the ways"`
	Subsets  *Subsets  `json:"subsets,omitempty" about:"which machines can do it with no others moved"`
	Trade    *Trade    `json:"trade,omitempty" about:"Pareto front: total against the worst share of a limit"`
	Warnings []Warning `json:"warnings" about:"what to check in the train file"`
}

// A Way is one way of moving a train.
type Way struct {
	Kind       string   `json:"kind" about:"strategy, hold, cascade or straight"`
	Strategy   string   `json:"strategy,omitempty" about:"what was made least"`
	Machine    string   `json:"machine,omitempty" about:"machine that is held, or where a cascade starts"`
	Status     string   `json:"status" about:"status of its plan"`
	Total      Number   `json:"total,omitempty" about:"sum of all moves, in size, rounded up" unit:"weighted"`
	Plain      Number   `json:"plain,omitempty" about:"sum of all moves, in size, without weights" unit:"move"`
	Bound      Number   `json:"bound,omitempty" about:"proven lower bound on the total, rounded down" unit:"weighted"`
	Gap        Number   `json:"gap,omitempty" about:"part of the total above the bound, rounded up" unit:"share"`
	Peak       Number   `json:"peak,omitempty" about:"largest move at a foot, in size" unit:"move"`
	Moved      *int     `json:"moved,omitempty" about:"count of machines that move"`
	Touched    *int     `json:"touched,omitempty" about:"count of feet that move"`
	Shims      *Handled `json:"shims,omitempty" about:"shims taken out and put in"`
	Use        *Aim     `json:"use,omitempty" about:"shares of the coupling limits that are used"`
	Couplings  []Driven `json:"couplings,omitempty" about:"what is used of the limits of every coupling"`
	First      Number   `json:"first,omitempty" about:"the strategy's own measure" unit:"measure"`
	FirstBound Number   `json:"first_bound,omitempty" about:"what is proven of that measure" unit:"measure"`
	Reserve    *Reserve `json:"reserve,omitempty" about:"limit of a foot or nozzle with the least room left"`
	Chance     Number   `json:"chance,omitempty" about:"probability of ending within limits, rounded down" unit:"share"`
	Clash      []Limit  `json:"clash,omitempty" about:"conflict: limits that can't be kept together"`
	Broken     []End    `json:"broken,omitempty" about:"limits that it breaks"`
	Cut        string   `json:"cut,omitempty" about:"why the search ended early"`
}

// A Driven is what is used of the limits of one coupling.
type Driven struct {
	Name   string `json:"name" about:"name of the coupling"`
	Driven string `json:"driven_by" about:"governing condition: most is used in it"`
	Uses   []Use  `json:"uses" about:"every condition"`
}

// A Use is what is used of the limits of a coupling in one condition.
type Use struct {
	Condition string `json:"condition" about:"name of the condition"`
	Use       Number `json:"use" about:"share of the limit that is used most, rounded up" unit:"share"`
}

// A Handled is how many shims are taken out and put in.
type Handled struct {
	Pieces int  `json:"pieces" about:"count of shims"`
	All    bool `json:"all" about:"false: there may be more"`
}

// A Reserve is a limit with the room that is left.
type Reserve struct {
	Limit
	Left Number `json:"left" about:"room left, - where it is broken" unit:"move"`
}

// Subsets are which machines can do it with no others moved.
type Subsets struct {
	Can       []Subset `json:"can" about:"sets that can do it"`
	Idle      int      `json:"idle" about:"count of sets that could but need not move all of theirs"`
	Cannot    int      `json:"cannot" about:"count of sets that cannot, proven"`
	Undecided int      `json:"undecided" about:"count of sets of which nothing is known"`
	Curve     []Fewer  `json:"curve" about:"total against count of machines moved"`
}

// A Fewer is the total where only so many machines may move.
type Fewer struct {
	Moved      int    `json:"moved" about:"count of machines, at most"`
	Total      Number `json:"total" about:"total; null: no plan was found" unit:"weighted"`
	Bound      Number `json:"bound" about:"proven lower bound on it, rounded down; null: not known" unit:"weighted"`
	Impossible bool   `json:"impossible" about:"proven: no plan moves as few"`
}

// A Subset is machines that can do it with no others moved.
type Subset struct {
	Machines []string `json:"machines" about:"machines that are moved"`
	Total    Number   `json:"total" about:"total, rounded up" unit:"weighted"`
	Bound    Number   `json:"bound" about:"proven lower bound on it, rounded down" unit:"weighted"`
	Peak     Number   `json:"peak" about:"largest move at a foot, in size" unit:"move"`
	Use      Number   `json:"use" about:"share of the limit that is used most, rounded up" unit:"share"`
}

// A Trade is the Pareto front: the total against the worst share of a limit.
type Trade struct {
	Points []TradePoint `json:"points" about:"its points"`
	Convex bool         `json:"convex" about:"relaxed is convex between the points, as it has to be"`
	Sag    Number       `json:"sag" about:"how far relaxed lies below its chords at most; null: not known" unit:"weighted"`
	Knee   *int         `json:"knee" about:"index in points, from 0, where it bends most; null: none"`
}

// A TradePoint is a point of the Pareto front.
type TradePoint struct {
	Use     Number `json:"use" about:"largest share of a limit that was asked for" unit:"share"`
	Reached Number `json:"reached" about:"largest share of a limit by the plan, rounded up" unit:"share"`
	Total   Number `json:"total" about:"total; null: no plan was found" unit:"weighted"`
	Bound   Number `json:"bound" about:"proven lower bound on it, rounded down" unit:"weighted"`
	Relaxed Number `json:"relaxed" about:"proven lower bound without whole steps" unit:"weighted"`
	Peak    Number `json:"peak" about:"largest move at a foot, in size" unit:"move"`
	Moved   int    `json:"moved" about:"count of machines that move"`
}
