package pages

import (
	"bytes"
	"context"
	"encoding/json"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/optimize"
	"leastmove/optimize/diagnose"
	"leastmove/optimize/ways"
	"leastmove/train"
)

// softFrom is the turbine, gear and compressor with a gap measured under a foot that the plan lowers, and its plan.
func softFrom(t *testing.T, gap float64) (m, f int, p *optimize.Plan) {
	t.Helper()
	tr, p := plannedTurbine(t)
	for i := range p.Moves {
		for k := range p.Moves[i] {
			if p.Moves[i][k].Up < -0.1 {
				tr.Machines[i].Feet[k].Soft = gap
				p, err := ways.Make(context.Background(), tr, optimize.Options{Brief: true})
				require.NoError(t, err)
				require.Less(t, p.Moves[i][k].Up, -0.05)
				return i, k, p
			}
		}
	}
	require.Fail(t, "no foot goes down")
	return 0, 0, nil
}

// packOf is the cell of a table for the pack under a foot; before it stands the change.
func packOf(t *testing.T, g doc.Table, foot string, column int) [2]string {
	t.Helper()
	for _, row := range g.Rows {
		if slices.ContainsFunc(row[:column], func(c doc.Cell) bool { return c.Text == foot }) {
			return [2]string{row[column].Text, row[column+1].Text}
		}
	}
	require.Fail(t, "no row", foot)
	return [2]string{}
}

// The plan's page and what verify says is left to do have one pack under a soft foot, and under one whose base is
// machined: the one that lies there.
func TestVerifyHasThePackOfThePlan(t *testing.T) {
	for name, change := range map[string]func(*train.Foot){
		"soft": func(*train.Foot) {},
		"cut":  func(f *train.Foot) { f.Cut = 0.35; f.Lower += 0.35 },
	} {
		t.Run(name, func(t *testing.T) {
			m, f, p := softFrom(t, 0.04)
			change(&p.Train.Machines[m].Feet[f])
			text := &planText{formatter: formatterFor(view.Of(p)), plan: view.Of(p)}
			text.machineMoves(m)
			var want [2]string
			for _, b := range text.Doc.Blocks {
				if table, is := b.(*doc.Table); is {
					want = packOf(t, *table, text.Foot(m, f), 1)
				}
			}
			known := text.moveTable(func(int, int) bool { return false })
			assert.Equal(t, want, packOf(t, known, text.Foot(m, f), 2))
			foot := &p.Train.Machines[m].Feet[f]
			now, then := foot.Pack-0.05, foot.Pack+foot.Cut+p.Moves[m][f].Up
			assert.Equal(t, string(text.Packed(now)+" -> "+text.Packed(then)), want[1], "0.04 mm is filled by a shim of 0.05")
			doubted := text.moveTable(func(i, k int) bool { return i == m && k == f })
			assert.Equal(t, "measure the pack first", packOf(t, doubted, text.Foot(m, f), 2)[1])
		})
	}
}

// A gap that makes the plan provisional makes what verify says so too.
func TestVerifyIsProvisionalOnSoftFeet(t *testing.T) {
	for gap, provisional := range map[float64]bool{0.04: false, 0.12: true} {
		m, f, p := softFrom(t, gap)
		assert.Equal(t, provisional, p.Provisional())
		tr := example(t, "turbine")
		tr.Machines[m].Feet[f].Soft = gap
		r := setBeside(t, p, tr) // nothing was moved
		require.False(t, r.Met())
		var txt bytes.Buffer
		require.NoError(t, VerifyText(&txt, r, Page{}))
		if s := flat(txt.String()); provisional {
			assert.Contains(t, s, "Too soft to align on, over 0.05 mm")
			assert.Contains(t, s, "What to do now (PROVISIONAL)")
			assert.Contains(t, s, "of this fills the gap found")
		} else {
			assert.NotContains(t, s, "PROVISIONAL")
		}
	}
}

// A foot whose pack may be the fault has no figure for it, on the page and for programs; another foot keeps its.
func TestVerifyWithholdsPacksInDoubt(t *testing.T) {
	_, now, r := stuckBeside(t)
	require.False(t, r.Met())
	m, f := 2, 0
	require.False(t, r.PackInDoubt(m, f), "it is accused of a side move: its pack is as planned")
	for name, c := range map[string]struct {
		fault diagnose.Fault
		feet  []bool // of feet 0 and 2
	}{
		"wrong way, a station": {diagnose.Fault{Cause: diagnose.WrongWay, Machine: m, Feet: []int{0, 1},
			Plane: diagnose.Vertical}, []bool{true, false}},
		"not made, a machine": {diagnose.Fault{Cause: diagnose.NotMade, Machine: m, Plane: diagnose.Every},
			[]bool{true, true}},
		"none made": {diagnose.Fault{Cause: diagnose.NoneMade, Machine: -1}, []bool{true, true}},
		"a reading": {diagnose.Fault{Cause: diagnose.Misread, Machine: -1, Coupling: 1}, []bool{false, false}},
		"sideways": {diagnose.Fault{Cause: diagnose.WrongWay, Machine: m, Feet: []int{0, 1},
			Plane: diagnose.Sideways}, []bool{false, false}},
	} {
		t.Run(name, func(t *testing.T) {
			r.Verdict.Suspects = []diagnose.Suspect{{Fault: c.fault}}
			var js bytes.Buffer
			require.NoError(t, verifyJSON(&js, r, Page{}))
			var doc struct {
				Remaining struct {
					Machines []struct{ Feet []map[string]any }
					Packs    []map[string]any
				}
			}
			require.NoError(t, json.Unmarshal(js.Bytes(), &doc))
			for n, foot := range []int{0, 2} {
				assert.Equal(t, c.feet[n], r.PackInDoubt(m, foot))
				_, has := doc.Remaining.Machines[m].Feet[foot]["pack"]
				assert.Equal(t, !c.feet[n], has)
				listed := slices.ContainsFunc(doc.Remaining.Packs, func(p map[string]any) bool {
					return p["machine"] == now.Machines[m].Name && p["foot"] == now.Machines[m].Feet[foot].Name
				})
				assert.False(t, listed && c.feet[n])
			}
		})
	}
}
