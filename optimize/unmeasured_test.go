package optimize_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// Soft foot that is not stated is said once for the train; at which machines, where it is stated at others. That of a
// held machine is not asked for.
func TestSoftFootThatIsNotStated(t *testing.T) {
	said := func(change func(tr *train.Train, stated []bool)) []string {
		tr := trains.Read(t, "pump", trains.PumpBeside)
		stated := make([]bool, len(tr.Machines))
		change(tr, stated)
		for i, known := range stated {
			for f := range tr.Machines[i].Feet {
				tr.Machines[i].Feet[f].SoftUnknown = !known
			}
		}
		p, err := optimize.Make(context.Background(), tr, optimize.Options{Brief: true})
		require.NoError(t, err)
		var soft []string
		for _, s := range p.Unstated {
			if len(s) > 9 && s[:9] == "soft foot" {
				soft = append(soft, s)
			}
		}
		return soft
	}
	assert.Equal(t, []string{"soft foot at the feet (soft), counted as none"}, said(func(*train.Train, []bool) {}))
	assert.Empty(t, said(func(_ *train.Train, stated []bool) { stated[1] = true }), "the motor is held")
	assert.Equal(t, []string{"soft foot at the feet of motor (soft), counted as none"},
		said(func(tr *train.Train, stated []bool) { tr.Machines[0].Hold, stated[1] = false, true }))
}
