package planjson

// An Assurance is what came of a probability that was asked for.
type Assurance struct {
	Asked   Number   `json:"asked" about:"probability of ending within limits that was asked for" unit:"share"`
	Reached bool     `json:"reached" about:"this plan has it, by the simulated jobs of chance"`
	None    bool     `json:"none" about:"proven: no plan has it"`
	Margin  Number   `json:"margin,omitempty" about:"standard deviations that limits were held short by" unit:"ratio"`
	Most    Number   `json:"most,omitempty" about:"share of a limit that this takes, the largest" unit:"share"`
	Least   Number   `json:"least,omitempty" about:"share of a limit that this takes, the smallest" unit:"share"`
	Extra   Number   `json:"extra,omitempty" about:"total of this plan beyond without.total" unit:"weighted"`
	Without *Without `json:"without,omitempty" about:"the plan that may use all of every limit, where it was made"`
}

// Without is the plan that may use all of every limit.
type Without struct {
	Total  Number `json:"total" about:"its total" unit:"weighted"`
	Within Number `json:"within" about:"probability that it ends within limits, rounded down" unit:"share"`
}

// A Chance is how likely a plan ends within limits.
type Chance struct {
	Within    Number           `json:"within" about:"probability that all couplings do, rounded down" unit:"share"`
	Error     Number           `json:"error" about:"standard error of that" unit:"share"`
	Draws     int              `json:"draws" about:"count of simulated jobs"`
	Halved    Sources          `json:"halved" about:"within, were that error half as large"`
	Better    []Better         `json:"better" about:"within, were one measurement better by half, the largest first"`
	Couplings []CouplingChance `json:"couplings" about:"every coupling by itself"`
}

// A Better is the probability if one measurement were better by half.
type Better struct {
	Source   string `json:"source" about:"which error: offset, angle, placing or growth"`
	Coupling string `json:"coupling,omitempty" about:"coupling that it is an error at"`
	Machine  string `json:"machine,omitempty" about:"machine that it is an error at"`
	Within   Number `json:"within" about:"probability then, rounded down" unit:"share"`
}

// Sources are one number for every kind of error.
type Sources struct {
	Offset  Number `json:"offset" about:"of offsets found" unit:"share"`
	Angle   Number `json:"angle" about:"of angles found" unit:"share"`
	Placing Number `json:"placing" about:"of where feet are set" unit:"share"`
	Growth  Number `json:"growth" about:"of growth" unit:"share"`
}

// A CouplingChance is how likely one coupling ends within limits.
type CouplingChance struct {
	Name      string  `json:"name" about:"name of the coupling"`
	Within    Number  `json:"within" about:"probability that it does, rounded down" unit:"share"`
	Kind      string  `json:"kind" about:"limit that is passed most often"`
	Condition string  `json:"condition" about:"condition in which it is passed most often"`
	Shares    Sources `json:"shares" about:"parts of the variance there"`
}
