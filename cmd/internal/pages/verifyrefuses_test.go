package pages

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/planjson"
	"leastmove/train"
)

// A plan for another train, or one that says too little, is refused.
func TestVerifyRefuses(t *testing.T) {
	plan, now := stuckExample(t)
	p := written(t, plan)
	now.Couplings[0].Name = "fast"
	_, faults, err := verifying(p, now)
	require.NoError(t, err)
	assert.Contains(t, faults.Text("plan"), `the plan has no coupling "fast"`)
	now.Couplings[0].Name = "high speed"
	p.Couplings[0].Rest = nil
	_, faults, err = verifying(p, now)
	require.NoError(t, err)
	assert.Contains(t, faults.Text("plan"), "the plan does not say how coupling \"high speed\" is to stand at rest")
	p.Couplings = nil
	_, faults, err = verifying(p, now)
	require.NoError(t, err)
	assert.Contains(t, faults.Text("plan"), "--plan PLAN.json --format json")
}

// Moves that somebody changed in the file of a plan no longer go with what it says
// of the couplings: whoever carried them out must not be accused of it.
func TestVerifyChangedByHand(t *testing.T) {
	tr, plan := plannedTurbine(t)
	for name, c := range map[string]struct {
		change func(*planjson.File, *train.Train)
		fault  string // "": none
		tells  string // among the differences
	}{
		"as written": {change: func(*planjson.File, *train.Train) {}},
		"one foot station 0.2 mm higher, which moves the coupling by 0.23 mm": {
			change: func(p *planjson.File, _ *train.Train) {
				for k := range 2 {
					add(&p.Machines[2].Feet[k].Up, 0.2)
					add(&p.Machines[2].Feet[k].Pack.Then, 0.2)
				}
				p.Plain = "" // as if it did not say
			},
			fault: `the moves of the plan do not bring coupling "low speed" to where the plan says`,
		},
		"a machine taken out": {
			change: func(p *planjson.File, _ *train.Train) {
				p.Machines, p.Plain = slices.Delete(p.Machines, 1, 2), ""
			},
			fault: `the moves of the plan do not bring coupling "high speed" to where the plan says`,
		},
		"a station a step higher, its packs as they were": {
			change: func(p *planjson.File, _ *train.Train) {
				add(&p.Machines[0].Feet[0].Up, 0.05)
				add(&p.Machines[0].Feet[1].Up, 0.05)
			},
			fault: `is to go up by 0.050 mm, and its pack changes by 0.000 mm`,
		},
		"a station two hundredths to the left": {
			change: func(p *planjson.File, _ *train.Train) {
				add(&p.Machines[0].Feet[0].Left, 0.02)
				add(&p.Machines[0].Feet[1].Left, 0.02)
			},
			fault: "one or the other was changed by hand",
		},
		"feet that stand 200 mm from where the plan has them": {
			change: func(_ *planjson.File, now *train.Train) {
				now.Machines[1].Feet[2].X += 200
				now.Machines[1].Feet[3].X += 200
			},
			tells: "low speed: with the feet and planes of the train file the moves of the plan do not bring it to where " +
				"the plan says",
		},
	} {
		t.Run(name, func(t *testing.T) {
			p, now := written(t, plan), afterMoves(tr, plan, plan.Moves)
			c.change(p, now)
			r, faults, err := verifying(p, now)
			require.NoError(t, err)
			if c.fault != "" {
				assert.Contains(t, faults.Text("plan"), c.fault)
				return
			}
			require.Nil(t, faults, faults.Text("plan"))
			if c.tells == "" {
				assert.Empty(t, r.Differences)
				assert.False(t, r.Verdict.Off)
				return
			}
			assert.Contains(t, pageOf(r).differences(), c.tells)
		})
	}
}
