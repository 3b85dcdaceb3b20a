package optimize

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"leastmove/bolts"
	"leastmove/testdata/families"
	"leastmove/train"
	"leastmove/train/trainfile"
)

// readTrain reads a train file as the program does.
func readTrain(t testing.TB, name, text string) *train.Train {
	t.Helper()
	tr, report := trainfile.Read(name, []byte(text), trainfile.Options{ClearanceHole: bolts.ClearanceHole, Thread: bolts.Thread, Minor: bolts.Minor})
	require.NotNilf(t, tr, "%s:\n%v", name, report)
	return tr
}

// drawn is the train of a family and a seed. All of them are invented.
func drawn(t *testing.T, family string, seed uint64) *train.Train {
	t.Helper()
	return readTrain(t, fmt.Sprintf("%s-%d", family, seed), families.TOML(family, seed))
}

// planned makes a plan and puts it through the checks of recheck_test.go.
func planned(t *testing.T, tr *train.Train, opt Options) *Plan {
	t.Helper()
	opt.Brief = true
	return fully(t, tr, opt)
}

// fully is planned with prices, and with relaxations where there is no plan, which
// take longer.
func fully(t *testing.T, tr *train.Train, opt Options) *Plan {
	t.Helper()
	p, err := Make(context.Background(), tr, opt)
	require.NoError(t, err)
	recheck(t, p)
	return p
}

// grain is a step in mm between the totals that the train's moves can have,
// where every machine is as hard to move: left and right feet go sideways
// together, by what a dial shows.
func grain(tr *train.Train) float64 { return 2 * resolution(tr.Units) }
