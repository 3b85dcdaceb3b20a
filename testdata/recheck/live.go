package recheck

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"leastmove/optimize"
	"leastmove/testdata/outside"
	"leastmove/testdata/trains"
)

const (
	Python  = "/usr/bin/python3" // where Debian's packages of the referees are seen
	Referee = "../testdata/referee/referee.py"
	// LiveSeed is the first seed of the trains that the referees solve while
	// the tests run: none of the stored ones.
	LiveSeed = 7001
)

// Live says whether the outside solvers are to be asked, and are there. They are with
// LEASTMOVE_TESTS=all, and a bare machine leaves their checks out and says which; with
// LEASTMOVE_REFEREES=required they must be there.
func Live(t *testing.T, checks string) {
	t.Helper()
	if !trains.Everything() && os.Getenv("LEASTMOVE_REFEREES") != "required" {
		t.Skip("left out: " + checks + ": asked with LEASTMOVE_TESTS=all")
	}
	out, err := exec.Command(Python, "-c", "import cvxopt, scipy").CombinedOutput()
	if err == nil {
		return
	}
	reason := strings.TrimSpace(string(out))
	if i := strings.LastIndexByte(reason, '\n'); i >= 0 {
		reason = reason[i+1:]
	}
	if reason == "" {
		reason = err.Error()
	}
	outside.Missing(t, fmt.Sprintf("%s: %s has no cvxopt and scipy (%s)", checks, Python, reason))
}

func TrainFile(dir, family string, seed uint64) string {
	return filepath.Join(dir, fmt.Sprintf("%s-%d.toml", family, seed))
}

// Printed is a plan in the form of `leastmove plan --format json`, with no
// more in it than the referee looks at, and nothing rounded.
func Printed(p *optimize.Plan) map[string]any {
	tr, unit := p.Train, p.Train.Units.Move()
	out := map[string]any{"status": p.Status.String()}
	if p.Moves == nil {
		return out
	}
	out["total"], out["bound"] = p.Total/unit, p.Bound/unit
	out["use"] = map[string]float64{"aim": p.Aim, "reached": p.Reached}
	var machines, couplings []any
	for i := range tr.Machines {
		m := &tr.Machines[i]
		var feet []any
		for f, foot := range m.Feet {
			move := p.Moves[i][f]
			entry := map[string]any{"name": foot.Name, "up": move.Up / unit, "left": move.Left / unit,
				"axial": move.Axial / unit}
			if !math.IsNaN(foot.Pack) {
				entry["pack"] = map[string]float64{"now": foot.Pack / unit, "then": (foot.Pack + move.Up) / unit}
			}
			feet = append(feet, entry)
		}
		machines = append(machines, map[string]any{"name": m.Name, "feet": feet})
	}
	for i := range tr.Couplings {
		var states []any
		for k := range tr.Conditions {
			found, planned := p.Found.Couplings[i][k], p.Planned.Couplings[i][k]
			tilt := func(offset, angle float64) map[string]float64 {
				return map[string]float64{"offset": offset / unit, "angle": angle}
			}
			states = append(states, map[string]any{
				"condition": tr.Conditions[k].Name,
				"use":       map[string]float64{"found": found.Worst(), "planned": planned.Worst()},
				"found":     map[string]any{"v": tilt(found.V.Offset, found.V.Angle), "h": tilt(found.H.Offset, found.H.Angle)},
				"planned": map[string]any{"v": tilt(planned.V.Offset, planned.V.Angle),
					"h": tilt(planned.H.Offset, planned.H.Angle)},
			})
		}
		couplings = append(couplings, map[string]any{"name": tr.Couplings[i].Name, "states": states})
	}
	out["machines"], out["couplings"] = machines, couplings
	return out
}
