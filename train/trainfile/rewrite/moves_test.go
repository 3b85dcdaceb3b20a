package rewrite

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/families"
	"leastmove/train"
	"leastmove/train/trainfile/tree"
)

// inLimits are moves of whole steps that keep what is stated of feet, level and nozzles:
// random ones, made smaller until they do. Held machines stay, and left and right go alike
// where the file does not let them differ.
func inLimits(tr *train.Train, random *rand.Rand) train.Moves {
	moves := tr.Stay()
	for i := range tr.Machines {
		m := &tr.Machines[i]
		if m.Hold {
			continue
		}
		for most := 1.0; most > 0.02; most /= 2 {
			axial := 0.0
			if m.Axial {
				axial = 0.01 * math.Round(100*most*(2*random.Float64()-1))
			}
			at, left := math.NaN(), 0.0
			for f := range m.Feet {
				up := tr.Shims.Step * math.Round(most*(2*random.Float64()-1)/tr.Shims.Step)
				if m.Feet[f].X == at && !m.Roll {
					up = moves[i][f-1].Up
				}
				if m.Feet[f].X != at {
					left = tr.Units.Move() * 0.5 * math.Round(most*(2*random.Float64()-1)/tr.Units.Move()/0.5)
				}
				at = m.Feet[f].X
				moves[i][f] = train.FootMove{Up: up, Left: left, Axial: axial}
			}
			if kept(tr, moves, i) {
				break
			}
			for f := range moves[i] {
				moves[i][f] = train.FootMove{}
			}
		}
	}
	return moves
}

func kept(tr *train.Train, moves train.Moves, i int) bool {
	m, s := &tr.Machines[i], tr.Check(moves).Machines[i]
	for f := range m.Feet {
		foot, went := &m.Feet[f], s.Feet[f]
		up := moves[i][f].Up + tr.Shims.Step*math.Round(foot.Soft/tr.Shims.Step)
		off := math.Hypot(went.Axial-foot.BoltAt[0], went.Left-foot.BoltAt[1])
		if up < -foot.Lower || up > foot.Raise || off > (foot.Hole-foot.Bolt)/2 || went.Left > foot.TravelLeft ||
			-went.Left > foot.TravelRight {
			return false
		}
	}
	for n := range m.Nozzles {
		if s.Nozzles[n] > m.Nozzles[n].Limit {
			return false
		}
	}
	return true
}

// What is read after an edit is the old train and the moves, foot by foot, and all else of
// it: for all examples, all families in either unit, and pieces known or not.
func TestWithMoves(t *testing.T) {
	texts := map[string]string{}
	files, err := filepath.Glob("../../../examples/*/before.toml")
	require.NoError(t, err)
	for _, f := range append(files, "../testdata/whole.toml") {
		text, err := os.ReadFile(f)
		require.NoError(t, err)
		texts[f] = string(text)
	}
	for _, family := range families.Names() {
		for seed := range uint64(4) {
			texts[fmt.Sprint(family, " ", seed)] = families.TOML(family, seed)
		}
	}
	moved, rolled, differ, pieced := 0, 0, 0, 0
	for name, text := range texts {
		t.Run(name, func(t *testing.T) {
			random := rand.New(rand.NewPCG(1, uint64(len(text))))
			was := readAll(t, name, text)
			moves := inLimits(was, random)
			state := was.Check(moves)
			now := was.Made(moves)
			for i := range now.Machines {
				for f := range now.Machines[i].Feet {
					if foot := &now.Machines[i].Feet[f]; was.Machines[i].Feet[f].Pieces != nil && foot.Pieces == nil &&
						random.IntN(2) > 0 && foot.Pack > 1 {
						half := was.Shims.Step * math.Round(foot.Pack/2/was.Shims.Step)
						foot.Pieces = []float64{half, foot.Pack - half}
					}
				}
			}
			out, changes, err := WithMoves([]byte(text), was, now)
			require.NoError(t, err)
			if len(changes) == 0 {
				assert.Equal(t, strings.TrimPrefix(text, "\ufeff"), out)
			}
			empty, err := WithoutReadings([]byte(out))
			require.NoError(t, err)
			assert.Equal(t, strings.Count(text, "#")+strings.Count(empty, tree.ToRead), strings.Count(empty, "#"),
				"comments stay")
			is := readAll(t, name, filledIn(empty))
			digit := 0.01
			if was.Units == train.Inches {
				digit = 0.1 * train.Mil
			}
			close := func(want, is, tolerance float64, what string, of ...any) {
				t.Helper()
				if math.IsNaN(want) || math.IsInf(want, 0) {
					assert.Equal(t, fmt.Sprint(want), fmt.Sprint(is), append([]any{what}, of...))
					return
				}
				require.False(t, math.IsNaN(is), what)
				assert.InDelta(t, want, is, tolerance, append([]any{what}, of...))
			}
			for i := range was.Machines {
				m, n := &was.Machines[i], &is.Machines[i]
				if moves.Moved(i) {
					moved++
				}
				if math.Abs(state.Machines[i].Motion[train.Roll]) > 0.01 {
					rolled++
				}
				for f := range m.Feet {
					old, foot, up, went := m.Feet[f], &n.Feet[f], moves[i][f].Up, state.Machines[i].Feet[f]
					fill := was.Shims.Step * math.Round(old.Soft/was.Shims.Step)
					close(old.Pack+fill+old.Cut+up, foot.Pack, 1e-6, "pack", m.Name, old.Name)
					close(old.Lower+fill+up, foot.Lower, 1e-6, "lower", m.Name, old.Name)
					close(math.Max(0, old.Raise-fill-up), foot.Raise, 1e-6, "raise", m.Name, old.Name)
					close(math.Max(0, old.TravelLeft-went.Left-digit/2), foot.TravelLeft, digit*0.6, "travel left", m.Name, old.Name)
					close(math.Max(0, old.TravelRight+went.Left-digit/2), foot.TravelRight, digit*0.6, "travel right",
						m.Name, old.Name)
					if old.Hole >= old.Bolt {
						fine := 0.00051 // mm
						if was.Units == train.Inches {
							fine = 0.00051 / 10 * train.Inch
						}
						close(old.BoltAt[0]-went.Axial, foot.BoltAt[0], fine, "bolt, axial", m.Name, old.Name)
						close(old.BoltAt[1]-went.Left, foot.BoltAt[1], fine, "bolt, left", m.Name, old.Name)
					}
					if old.Pieces != nil && foot.Pieces != nil {
						pieced++
						sum := 0.0
						for _, p := range foot.Pieces {
							sum += p
						}
						close(foot.Pack, sum, was.Shims.Step/2, "pieces", m.Name, old.Name)
					}
					assert.Zero(t, foot.Cut)
					if f > 0 && foot.BoltAt != n.Feet[f-1].BoltAt && old.X == m.Feet[f-1].X {
						differ++
					}
					// All of these were looked at: what is left of a foot is as it was.
					foot.Pack, foot.Pieces, foot.Cut, foot.Lower, foot.Raise = old.Pack, old.Pieces, old.Cut, old.Lower, old.Raise
					foot.TravelLeft, foot.TravelRight, foot.BoltAt = old.TravelLeft, old.TravelRight, old.BoltAt
				}
				for k := range m.Nozzles {
					close(math.Max(0, m.Nozzles[k].Limit-state.Machines[i].Nozzles[k]), n.Nozzles[k].Limit, digit/5, "nozzle", m.Name)
					n.Nozzles[k].Limit = m.Nozzles[k].Limit
				}
				if l := m.Level; !math.IsInf(l.Pitch, 1) || !math.IsInf(l.Roll, 1) {
					turned := state.Machines[i].Motion
					if b := was.BaseOf(i); b >= 0 { // which takes it along
						turned[train.Pitch] += state.Machines[b].Motion[train.Pitch]
						turned[train.Roll] += state.Machines[b].Motion[train.Roll]
					}
					close(l.FoundPitch+turned[train.Pitch], n.Level.FoundPitch, 0.00051, "pitch", m.Name)
					close(l.FoundRoll+turned[train.Roll], n.Level.FoundRoll, 0.00051, "roll", m.Name)
				}
				n.Level = m.Level
			}
			assert.True(t, sprint(unread(was)) == sprint(unread(is)), "all else stays")
		})
	}
	assert.Greater(t, moved, 100, "machines that were moved")
	assert.Greater(t, rolled, 3, "and rolled")
	assert.Greater(t, differ, 50, "pairs whose bolts sit at different places")
	assert.Positive(t, pieced, "packs by their pieces")
}
