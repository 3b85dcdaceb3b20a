// Package trains reads trains for tests.
package trains

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"leastmove/bolts"
	"leastmove/testdata/families"
	"leastmove/train"
	"leastmove/train/trainfile"
)

// Read reads a train file as the program does.
func Read(t testing.TB, name, text string) *train.Train {
	t.Helper()
	tr, report := trainfile.Read(name, []byte(text), trainfile.Options{ClearanceHole: bolts.ClearanceHole,
		Thread: bolts.Thread, Minor: bolts.Minor})
	require.NotNilf(t, tr, "%s:\n%v", name, report)
	return tr
}

// Drawn is the train of a family and a seed. All of them are invented. Its feet do not slide hot: answers are stored,
// and seeds are picked, for trains whose holes are looked at cold.
func Drawn(t testing.TB, family string, seed uint64) *train.Train {
	t.Helper()
	return Cold(DrawnHot(t, family, seed))
}

// DrawnHot is Drawn with feet that growth slides in their holes.
func DrawnHot(t testing.TB, family string, seed uint64) *train.Train {
	t.Helper()
	return Read(t, fmt.Sprintf("%s-%d", family, seed), families.TOML(family, seed))
}

// Cold is the train with feet that growth does not slide in their holes.
func Cold(tr *train.Train) *train.Train {
	for i := range tr.Machines {
		for f := range tr.Machines[i].Feet {
			tr.Machines[i].Feet[f].Slide = [2]float64{}
		}
	}
	return tr
}

// Flat lets the packs of every machine leave so much soft foot in mm.
func Flat(tr *train.Train, mm float64) {
	for i := range tr.Machines {
		tr.Machines[i].Flat = mm
	}
}

// Stated is the train with everything stated that no chance can be given without: what its file leaves open is none.
func Stated(tr *train.Train) *train.Train {
	for i := range tr.Machines {
		m := &tr.Machines[i]
		m.Growth.Unknown, m.Growth.AxialUnknown = false, false
		for s := range m.Shafts {
			m.Shafts[s].RunUnknown = false
			if g := m.Shafts[s].Growth; g != nil {
				g.Unknown, g.AxialUnknown = false, false
			}
		}
	}
	return tr
}
