package planjson

// A Survey is what the points of a survey come to.
type Survey struct {
	Spare     int           `json:"spare" about:"count of figures beyond the unknowns"`
	Scatter   Number        `json:"scatter" about:"standard error of one figure; null: not known" unit:"move"`
	Lines     []Line        `json:"lines" about:"every shaft with points, as a line"`
	Couplings []Between     `json:"couplings" about:"every coupling between two such shafts"`
	Rounds    []Round       `json:"rounds" about:"closure errors along the train"`
	Checks    []FailedPoint `json:"checks" about:"checks of the survey that failed"`
}

// A Line is a shaft by its points.
type Line struct {
	Shaft  string  `json:"shaft" about:"machine, or machine and shaft"`
	X      Number  `json:"x" about:"train station in the middle of its points" unit:"length"`
	V      Tilt    `json:"v" about:"there, vertical, in the frame of the survey"`
	H      Tilt    `json:"h" about:"there, horizontal, in the frame of the survey"`
	Half   Tilt    `json:"half" about:"95 % half-widths, of v and h alike; null: not known"`
	Points []Point `json:"points" about:"its points"`
}

// A Point is one that was measured.
type Point struct {
	X    Number `json:"x" about:"station of the machine's own" unit:"length"`
	V    Number `json:"v" about:"as measured, + up" unit:"move"`
	H    Number `json:"h" about:"as measured, + left" unit:"move"`
	OffV Number `json:"off_v" about:"residual from the line, + above it" unit:"move"`
	OffH Number `json:"off_h" about:"residual from the line, + left of it" unit:"move"`
}

// A Between is a coupling by the lines of its two shafts.
type Between struct {
	Name     string `json:"name" about:"name of the coupling"`
	Used     bool   `json:"used" about:"what was found is the survey's; else it was read or given"`
	Found    Half   `json:"found" about:"misalignment by the survey"`
	Half     Tilt   `json:"half" about:"95 % half-widths, of v and h alike; null: not known"`
	Far      Number `json:"far" about:"95 % half-width of that at the farthest foot" unit:"move"`
	Apart    *Half  `json:"apart,omitempty" about:"by the survey less what was read or given"`
	Expected *Tilt  `json:"expected,omitempty" about:"95 % half-widths of that; null: not known"`
}

// A Round is a closure error.
type Round struct {
	First    string `json:"first" about:"first coupling of the sum"`
	Last     string `json:"last" about:"last coupling of the sum"`
	X        Number `json:"x" about:"train station that the sum is taken at" unit:"length"`
	V        Tilt   `json:"v" about:"closure error, vertical"`
	H        Tilt   `json:"h" about:"closure error, horizontal"`
	Expected Tilt   `json:"expected" about:"95 % half-widths that the errors explain; null: not known"`
}

// A FailedPoint is a check of a survey that failed.
type FailedPoint struct {
	Kind  string `json:"kind" about:"copy, point, shafts, survey, survey_angle or round"`
	Size  Number `json:"size" about:"how far it is off, in size" unit:"point"`
	Limit Number `json:"limit" about:"how far it may be off" unit:"point"`
	Text  string `json:"text" about:"what to check, in words"`
}
