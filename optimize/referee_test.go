package optimize

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/families"
	"leastmove/testdata/trains"
)

const (
	python  = "/usr/bin/python3" // where Debian's packages of the referees are seen
	referee = "../testdata/referee/referee.py"
	// liveSeed is the first seed of the trains that the referees solve while
	// the tests run: none of the stored ones.
	liveSeed = 7001
)

// live says whether the outside solvers are there. A bare machine leaves their
// checks out, and says which; with LEASTMOVE_REFEREES=required it must not.
func live(t *testing.T, checks string) {
	t.Helper()
	out, err := exec.Command(python, "-c", "import cvxopt, scipy").CombinedOutput()
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
	if os.Getenv("LEASTMOVE_REFEREES") == "required" {
		require.FailNow(t, "the referees are required", "left out: %s: %s", checks, reason)
	}
	t.Skipf("left out: %s: %s has no cvxopt and scipy (%s)", checks, python, reason)
}

func trainFile(dir, family string, seed uint64) string {
	return filepath.Join(dir, fmt.Sprintf("%s-%d.toml", family, seed))
}

// Five fresh trains, or twenty: planned here, solved by CVXOPT and HiGHS, and every
// plan judged by the referee's own model of the train file.
func TestLiveReferees(t *testing.T) {
	t.Parallel()
	live(t, "fresh trains against CVXOPT and HiGHS, and the referee's verdict on their plans")
	dir, count, wanted := t.TempDir(), 0, trains.Draws(5, 20)
	for seed := uint64(liveSeed); count < wanted; seed++ {
		for _, family := range families.Names() {
			switch family {
			case "long", "twelve", "three": // HiGHS takes its time
				continue
			}
			if count < wanted {
				require.NoError(t, os.WriteFile(trainFile(dir, family, seed), []byte(families.TOML(family, seed)), 0o644))
				count++
			}
		}
	}
	answers := filepath.Join(t.TempDir(), "answers.json")
	out, err := exec.Command(python, "../testdata/referee/reference.py", "--limit", "5", "-o", answers, dir).CombinedOutput()
	require.NoErrorf(t, err, "%s", out)
	all := references(t, answers)
	require.Len(t, all, count)
	seen := newSpread()
	for _, r := range all {
		t.Run(fmt.Sprintf("%s-%d", r.Family, r.Seed), func(t *testing.T) {
			p := r.check(t, seen)
			judge(t, trainFile(dir, r.Family, r.Seed), p)
		})
	}
	seen.log(t)
}

// judge has the referee recompute a plan from the train file.
func judge(t *testing.T, file string, p *Plan) {
	t.Helper()
	plan, err := json.Marshal(printed(p))
	require.NoError(t, err)
	cmd := exec.Command(python, referee, "judge", file, "-")
	cmd.Stdin = bytes.NewReader(plan)
	out, err := cmd.CombinedOutput()
	require.NoErrorf(t, err, "%s\n%s", out, plan)
	var verdict struct {
		Status     string
		Violations []string
		Total      float64
	}
	require.NoErrorf(t, json.Unmarshal(out, &verdict), "%s", out)
	assert.Equal(t, p.Status.String(), verdict.Status)
	assert.Empty(t, verdict.Violations)
	if p.Status == Planned {
		assert.InDelta(t, p.Total/p.Train.Units.Move(), verdict.Total, 1e-6)
	}
}

// printed is a plan in the form of `leastmove plan --format json`, with no
// more in it than the referee looks at, and nothing rounded.
func printed(p *Plan) map[string]any {
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
			entry := map[string]any{"name": foot.Name, "up": move.Up / unit, "left": move.Left / unit, "axial": move.Axial / unit}
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
				"planned":   map[string]any{"v": tilt(planned.V.Offset, planned.V.Angle), "h": tilt(planned.H.Offset, planned.H.Angle)},
			})
		}
		couplings = append(couplings, map[string]any{"name": tr.Couplings[i].Name, "states": states})
	}
	out["machines"], out["couplings"] = machines, couplings
	return out
}

// The referee must see a plan that is none, or its verdicts say nothing.
func TestTheRefereeSeesABrokenPlan(t *testing.T) {
	live(t, "whether the referee sees a broken plan")
	file := filepath.Join(t.TempDir(), "train.toml")
	require.NoError(t, os.WriteFile(file, []byte(families.TOML("plain", 103)), 0o644))
	p := planned(t, trains.Drawn(t, "plain", 103), Options{})
	require.Equal(t, Planned, p.Status)
	for f := range p.Moves[1] {
		p.Moves[1][f].Up += 5 * p.Train.Shims.Step
	}
	plan, err := json.Marshal(printed(p))
	require.NoError(t, err)
	cmd := exec.Command(python, referee, "judge", file, "-")
	cmd.Stdin = bytes.NewReader(plan)
	out, err := cmd.Output()
	var exit *exec.ExitError
	require.ErrorAs(t, err, &exit)
	require.Equal(t, 1, exit.ExitCode())
	assert.Contains(t, string(out), "coupling")
}
