package optimize

import (
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"testing"

	"leastmove/optimize/lattice"
	"leastmove/optimize/search"
)

func TestZZ(t *testing.T) {
	for _, f := range []struct {
		fam  string
		seed uint64
	}{{"tight", 115}, {"held", 106}, {"two", 109}, {"three", 105}} {
		tr := drawn(t, f.fam, f.seed)
		p := planned(t, tr, Options{Gap: exact})
		fmt.Println("==", f, p.Status, p.Aim, p.Least, p.Bound, p.Reached, p.Lowest)
		k0 := build(tr, nil)
		steps := func(x func(v int) float64) lattice.Steps {
			st := make(lattice.Steps, len(k0.feet))
			for v := range k0.feet {
				n := x(v) / k0.problem.Vars[v].Step
				st[v] = int(n + 0.5)
				if n < 0 {
					st[v] = int(n - 0.5)
				}
			}
			return st
		}
		m := &maker{plan: p}
		m.linearise()
		show := func(what string, st lattice.Steps) {
			moves := k0.set(st)
			s := tr.Check(moves)
			fmt.Println(what, "cost", cost0(k0, st), "true use", s.Worst(), "linear", search.Use(&k0.problem, st), "linearised", m.task.worst(st), breaks(tr, moves, &s, p.Aim))
		}
		if p.Moves != nil {
			show("ours", steps(func(v int) float64 {
				g := k0.feet[v]
				mv := p.Moves[g.machine][g.feet[0]]
				return [3]float64{mv.Up, mv.Left, mv.Axial}[g.act]
			}))
		}
		b, _ := os.ReadFile(fmt.Sprintf("/tmp/e/%s-%d.mip.json", f.fam, f.seed))
		var out map[string]json.RawMessage
		json.Unmarshal(b, &out)
		for _, side := range []string{"mip inner", "mip outer"} {
			var a struct {
				Status string
				Moves  map[string]float64
			}
			json.Unmarshal(out[side], &a)
			if a.Moves == nil {
				fmt.Println(side, a.Status)
				continue
			}
			show(side, steps(func(v int) float64 {
				g := k0.feet[v]
				foot := tr.Machines[g.machine].Feet[g.feet[0]]
				key := tr.Machines[g.machine].Name + ": " + []string{"up", "left", "axial"}[g.act]
				if g.act != axial {
					key += " at " + foot.Name
				}
				x, ok := a.Moves[key]
				if !ok {
					t.Fatal(key, strings.Join(keys(a.Moves), ","))
				}
				return x * tr.Units.Move()
			}))
		}
	}
}

func keys(m map[string]float64) (out []string) {
	for k := range m {
		out = append(out, k)
	}
	return
}

func cost0(k *task, s lattice.Steps) float64 {
	x := make([]float64, len(s))
	for j := range x {
		x[j] = float64(s[j]) * k.problem.Vars[j].Step
	}
	return cost(&k.problem, x)
}
