package optimize_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/families"
	"leastmove/testdata/recheck"
	"leastmove/testdata/trains"
)

// Two fresh trains, or ten: planned here, solved by CVXOPT and HiGHS, and every
// plan judged by the referee's own model of the train file.
func TestLiveReferees(t *testing.T) {
	t.Parallel()
	recheck.Live(t, "fresh trains against CVXOPT and HiGHS, and the referee's verdict on their plans")
	dir, count, wanted := t.TempDir(), 0, trains.Draws(2, 10)
	for seed := uint64(recheck.LiveSeed); count < wanted; seed++ {
		for _, family := range families.Names() {
			switch family {
			case "long", "twelve", "three": // HiGHS takes its time
				continue
			}
			if count < wanted {
				require.NoError(t, os.WriteFile(recheck.TrainFile(dir, family, seed), []byte(families.TOML(family, seed)), 0o644))
				count++
			}
		}
	}
	answers := filepath.Join(t.TempDir(), "answers.json")
	out, err := exec.Command(recheck.Python, "../testdata/referee/reference.py", "--limit", "5", "-o", answers,
		dir).CombinedOutput()
	require.NoErrorf(t, err, "%s", out)
	all := references(t, answers)
	require.Len(t, all, count)
	seen := recheck.NewSpread()
	for _, r := range all {
		t.Run(fmt.Sprintf("%s-%d", r.Family, r.Seed), func(t *testing.T) {
			p := r.check(t, seen)
			judge(t, recheck.TrainFile(dir, r.Family, r.Seed), p)
		})
	}
	seen.Log(t)
}

// judge has the referee recompute a plan from the train file.
func judge(t *testing.T, file string, p *optimize.Plan) {
	t.Helper()
	plan, err := json.Marshal(recheck.Printed(p))
	require.NoError(t, err)
	cmd := exec.Command(recheck.Python, recheck.Referee, "judge", file, "-")
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
	if p.Status == optimize.Planned {
		assert.InDelta(t, p.Total/p.Train.Units.Move(), verdict.Total, 1e-6)
	}
}

// The referee must see a plan that is none, or its verdicts say nothing.
func TestTheRefereeSeesABrokenPlan(t *testing.T) {
	recheck.Live(t, "whether the referee sees a broken plan")
	file := filepath.Join(t.TempDir(), "train.toml")
	require.NoError(t, os.WriteFile(file, []byte(families.TOML("plain", 103)), 0o644))
	p := planned(t, trains.Drawn(t, "plain", 103), optimize.Options{})
	require.Equal(t, optimize.Planned, p.Status)
	for f := range p.Moves[1] {
		p.Moves[1][f].Up += 5 * p.Train.Shims.Step
	}
	plan, err := json.Marshal(recheck.Printed(p))
	require.NoError(t, err)
	cmd := exec.Command(recheck.Python, recheck.Referee, "judge", file, "-")
	cmd.Stdin = bytes.NewReader(plan)
	out, err := cmd.Output()
	var exit *exec.ExitError
	require.ErrorAs(t, err, &exit)
	require.Equal(t, 1, exit.ExitCode())
	assert.Contains(t, string(out), "coupling")
}
