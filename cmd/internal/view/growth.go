package view

// A Growth is how the end of one shaft goes from cold to running; the journal shift of the shaft in its
// bearings is not in it.
type Growth struct {
	Shaft           End
	X               float64 // mm, train station
	Up, Left, Axial float64 // mm, Axial + toward the last machine
	Roll            float64 // mrad of the case, + left side up
	Run             Shift   // mm, journal shift
	RunUnknown      bool    // the file does not state it
}

// growthOf are both ends of every shaft.
func growthOf(t *Train) []Growth {
	var out []Growth
	for i := range t.Machines {
		for s := range t.Machines[i].Shafts {
			e, shaft := End{Machine: i, Shaft: s}, &t.Machines[i].Shafts[s]
			for _, x := range t.Body(i) {
				up, left, axial := t.Grown(e, x)
				out = append(out, Growth{e, x, up, left, axial, t.GrowthOf(e).Roll, shaft.Run, shaft.RunUnknown})
			}
		}
	}
	return out
}
