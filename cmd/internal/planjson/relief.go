package planjson

// A Member is a limit of a conflict.
type Member struct {
	Limit
	Short Number `json:"short,omitempty" about:"how much it alone would have to give" unit:"limit"`
	Line  int    `json:"line,omitempty" about:"line of the train file that states it"`
}

// A Relieved is the option that the planned train has.
type Relieved struct {
	Number int    `json:"number" about:"its number in the list of options, from 1"`
	Kind   string `json:"kind" about:"kind of change"`
	Text   string `json:"text" about:"what to do, in words"`
	Edits  []Edit `json:"edits" about:"the same as changes of the train file"`
}

// A Relief is an option: changes that make a plan possible.
type Relief struct {
	Kind  string `json:"kind" about:"kind of change"`
	Text  string `json:"text" about:"what to do, in words"`
	Edits []Edit `json:"edits" about:"the same as changes of the train file"`
	Cost  Number `json:"cost" about:"what it costs, by the costs that the options are ordered by" unit:"ratio"`
	Least Number `json:"least,omitempty" about:"cost before rounding to what a shop does" unit:"ratio"`
	Total Number `json:"total" about:"total of a plan that it makes possible" unit:"weighted"`
	Bound Number `json:"bound" about:"proven lower bound on that, rounded down" unit:"weighted"`
}

// An Edit is one change of a train file.
type Edit struct {
	Machine  string `json:"machine,omitempty" about:"machine whose table changes"`
	Foot     string `json:"foot,omitempty" about:"foot, or the table of a pair of feet"`
	Coupling string `json:"coupling,omitempty" about:"coupling whose table changes"`
	Key      string `json:"key" about:"key, with a dot for one of a table in it"`
	From     any    `json:"from" about:"number or switch in the file now" unit:"key"`
	To       any    `json:"to" about:"number or switch to be written there" unit:"key"`
	Shift    Number `json:"shift,omitempty" about:"move along in the option's plan, of axial" unit:"move"`
}
