package planjson

// An OtherPlan is one plan of the run, the one that was asked for among them.
type OtherPlan struct {
	Names   []string `json:"names" about:"least-total, fewest-machines, margin, chance, chance-in-reach, closest, left-out"`
	Command string   `json:"command" about:"what prints it in full"`
	Status  string   `json:"status" about:"planned, impossible (proven) or undecided"`
	This    bool     `json:"this" about:"it is the plan that was asked for"`
	Moved   []string `json:"moved" about:"names of the machines that move"`
	Feet    *int     `json:"feet,omitempty" about:"count of feet that move"`
	Total   Number   `json:"total,omitempty" about:"sum of all moves, in size, rounded up" unit:"weighted"`
	Plain   Number   `json:"plain,omitempty" about:"sum of all moves, in size, without weights" unit:"move"`
	Share   Number   `json:"share,omitempty" about:"largest share of a coupling limit, rounded up" unit:"share"`
	Chance  Number   `json:"chance,omitempty" about:"probability of ending within limits, rounded down" unit:"share"`
	Highest Number   `json:"highest_chance,omitempty" about:"highest of any plan found, where none has the one asked for" unit:"share"`
	Without []string `json:"without,omitempty" about:"machines that are left out, one at a time; for left-out"`
}

// A PlanVerdict is whether the plan is to be carried out.
type PlanVerdict struct {
	Verdict string        `json:"verdict" about:"carry-out, marginal, not-advised or not-judged"`
	Reason  string        `json:"reason" about:"chance-kept, -short or -low, no-errors, no-growth, no-run, no-gap or limits-broken"`
	Chance  Number        `json:"chance" about:"probability of ending within limits, rounded down" unit:"share"`
	Wanted  Number        `json:"wanted" about:"probability from which on a plan is to be carried out" unit:"share"`
	Least   Number        `json:"least" about:"probability below which a plan is not advised" unit:"share"`
	Growth  []string      `json:"growth,omitempty" about:"machines whose growth is not stated"`
	Next    []VerdictStep `json:"next" about:"what would raise the probability, or is to be stated"`
}

// A VerdictStep is one thing that would raise the probability, or that is missing.
type VerdictStep struct {
	Step     string `json:"step" about:"take-plan, measure, state-errors or state-growth"`
	Command  string `json:"command,omitempty" about:"what prints the other plan; for take-plan"`
	Source   string `json:"source,omitempty" about:"which error to halve: offset, angle, placing or growth; for measure"`
	Coupling string `json:"coupling,omitempty" about:"coupling that it is an error at"`
	Machine  string `json:"machine,omitempty" about:"machine that it is an error at, or whose growth is missing"`
	Chance   Number `json:"chance,omitempty" about:"probability that it brings, rounded down" unit:"share"`
	Enough   bool   `json:"enough" about:"that is at least what is wanted"`
}
