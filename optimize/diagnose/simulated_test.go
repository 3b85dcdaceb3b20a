package diagnose

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/bolts"
	"leastmove/optimize"
	"leastmove/testdata/families"
	"leastmove/testdata/trains"
	"leastmove/train"
	"leastmove/train/readings"
	"leastmove/train/trainfile"
)

// A job is a train that was read with dials, planned, moved with errors of
// placing, and read again with the same dials. Truth is how the train really
// stood; every reading is rounded to what a dial shows.
type job struct {
	truth *train.Train // as it really stood before the moves
	read  *train.Train // as it was read
	plan  *optimize.Plan
	stuck *Fault // what did not go; nil: everything went
	one   bool   // up and down only the first foot of the station: its pack was not changed
}

const (
	placing  = 0.02 // mm, 95 % half-width of what a crew sets
	smallest = 0.1  // mm, least planned move that is asked about
	dialStep = 0.01 // mm, that a dial is read to
	across   = 600  // mm, between the planes of the two rim dials
)

// drawJob makes a job whose plan moves something; nil where there is no plan.
func drawJob(t *testing.T, family string, seed uint64, rnd *rand.Rand, stick bool) *job {
	t.Helper()
	name := fmt.Sprintf("%s-%d", family, seed)
	truth, report := trainfile.Read(name, []byte(families.TOML(family, seed)),
		trainfile.Options{ClearanceHole: bolts.ClearanceHole})
	require.NotNil(t, truth, report)
	trains.Cold(truth)
	truth.Errors = train.Errors{Offset: 0.02, Angle: 0.05, Placing: placing}
	read := dialled(t, truth, truth.Stay(), rnd)
	plan, err := optimize.Make(context.Background(), read, optimize.Options{Brief: true, Solves: 20, Gap: 0.3})
	require.NoError(t, err)
	if plan.Status != optimize.Planned {
		return nil
	}
	j := &job{truth: truth, read: read, plan: plan}
	if !stick {
		return j
	}
	var can []Fault
	for i := range truth.Machines {
		for s, feet := range truth.Machines[i].Stations() {
			m := plan.Moves[i][feet[0]]
			if math.Abs(m.Up) >= smallest-1e-9 {
				can = append(can, Fault{Machine: i, Feet: feet, Plane: Vertical, station: s})
			}
			if math.Abs(m.Left) >= smallest-1e-9 {
				can = append(can, Fault{Machine: i, Feet: feet, Plane: Sideways, station: s})
			}
		}
	}
	if len(can) == 0 {
		return nil
	}
	j.stuck, j.one = &can[rnd.IntN(len(can))], rnd.IntN(2) == 0
	return j
}

// made are the moves as the crew made them: off by errors of placing at every
// station of a moved machine, and one of them not at all.
func (j *job) made(rnd *rand.Rand) train.Moves {
	made := j.truth.Stay()
	for i := range j.truth.Machines {
		if !j.plan.Moves.Moved(i) {
			continue
		}
		for s, feet := range j.truth.Machines[i].Stations() {
			up, left := placing/train.Half95*rnd.NormFloat64(), placing/train.Half95*rnd.NormFloat64()
			for _, f := range feet {
				made[i][f] = j.plan.Moves[i][f]
				made[i][f].Up += up
				made[i][f].Left += left
				if j.stuck == nil || j.stuck.Machine != i || j.stuck.station != s {
					continue
				}
				switch {
				case j.stuck.Plane == Sideways:
					made[i][f].Left = 0
				case !j.one || f == feet[0]:
					made[i][f].Up = 0
				}
			}
		}
	}
	return made
}

// atRest is the train by true geometry after some moves, cold and at standstill.
func atRest(t *train.Train, moves train.Moves) []Pose {
	with := *t
	with.Conditions = append(append([]train.Condition(nil), t.Conditions...),
		train.Condition{Name: "at rest", Growth: make([]float64, len(t.Machines)), Use: 1})
	state := with.Check(moves)
	var out []Pose
	for i := range state.Couplings {
		r := state.Couplings[i][len(t.Conditions)]
		out = append(out, Pose{r.Misalignment, r.Gap})
	}
	return out
}

// dialled is the train as dials show it after some moves: two rim dials at every
// coupling, every 45 degrees, rounded to what a dial shows.
func dialled(t *testing.T, truth *train.Train, moves train.Moves, rnd *rand.Rand) *train.Train {
	t.Helper()
	out := *truth
	out.Couplings = append([]train.Coupling(nil), truth.Couplings...)
	for i, s := range atRest(truth, moves) {
		c := &out.Couplings[i]
		c.Taken, c.FoundGap = train.Share{}, s.Gap
		c.Dials = nil
		degrees := []float64{0, 45, 90, 135, 180, 225, 270, 315}
		for n, x := range []float64{c.X - across/2, c.X + across/2} {
			d := train.Dial{Kind: train.RimDial, OnFrom: n == 0, X: x, Radius: 100, Sag: 0, Set: 1, Angles: degrees}
			for _, v := range readings.Target(&d, c.X, s.Misalignment, degrees) {
				// Where the needle stands between two marks is not known.
				d.Values = append(d.Values, dialStep*math.Round(v/dialStep+rnd.Float64()-0.5))
			}
			c.Dials = append(c.Dials, d)
		}
		fit, refusal := readings.Reduce(c, readings.OptionsOf(&out, c))
		require.Nil(t, refusal)
		c.Fit, c.Found = fit, fit.Found
	}
	return &out
}

// judged is what the program says of the job once it is read again.
func (j *job) judged(t *testing.T, rnd *rand.Rand) *Verdict {
	t.Helper()
	now := dialled(t, j.truth, j.made(rnd), rnd)
	c := &Case{Train: now, Moves: j.plan.Moves, Placing: placing / train.Half95}
	before, planned, is := atRest(j.read, j.read.Stay()), atRest(j.read, j.plan.Moves), atRest(now, now.Stay())
	for i := range now.Couplings {
		c.Couplings = append(c.Couplings, Coupling{
			Before: before[i], Planned: planned[i], Now: is[i],
			Error: together(halves(t, j.read, i), halves(t, now, i)), GapError: 0.05,
		})
	}
	v, err := Judge(c)
	require.NoError(t, err)
	return v
}

func halves(t *testing.T, tr *train.Train, i int) train.Misalignment {
	fit := tr.Couplings[i].Fit
	require.NotNil(t, fit)
	return fit.Half
}

func together(a, b train.Misalignment) train.Misalignment {
	of := func(a, b float64) float64 { return math.Hypot(a, b) / train.Half95 }
	return train.Misalignment{
		V: train.Tilt{Offset: of(a.V.Offset, b.V.Offset), Angle: of(a.V.Angle, b.V.Angle)},
		H: train.Tilt{Offset: of(a.H.Offset, b.H.Offset), Angle: of(a.H.Angle, b.H.Angle)},
	}
}

// 300 random trains (15 unless all are asked for), read, planned, moved and read again; in a third of them one foot
// station did not go, sideways or up and down, or the pack of one of its feet was
// not changed. It is to be named first in at least 90 of 100, and in at least 190 of 200 others nothing is to be
// accused.
func TestSimulatedJobs(t *testing.T) {
	rnd := rand.New(rand.NewPCG(20, 26))
	kinds := []string{"plain", "spacer", "held", "gear", "three", "nozzle", "gap", "each", "effort", "mirrored", "long"}
	var stuck, named, other, quiet, alone int
	jobs := trains.Draws(3, 60)
	for seed := uint64(1000); stuck < jobs || other < 2*jobs; seed++ {
		stick := stuck < jobs && (other >= 2*jobs || seed%3 == 0)
		j := drawJob(t, kinds[seed%uint64(len(kinds))], seed, rnd, stick)
		if j == nil {
			continue
		}
		v := j.judged(t, rnd)
		require.False(t, math.IsNaN(v.Square))
		if !stick {
			other++
			if len(v.Suspects) == 0 && !v.Off {
				quiet++
			}
			continue
		}
		stuck++
		if len(v.Suspects) > 0 && v.Suspects[0].Machine == j.stuck.Machine && v.Suspects[0].Feet != nil &&
			v.Suspects[0].station == j.stuck.station {
			named++
			if len(v.Suspects) == 1 {
				alone++
			}
		} else if testing.Verbose() {
			m := j.plan.Moves[j.stuck.Machine][j.stuck.Feet[0]]
			t.Logf("%s: machine %d of %d, station %d, plane %d, one %v, planned up %.2f left %.2f; square %.0f of %.0f; "+
				"said %+v", j.truth.Title, j.stuck.Machine, len(j.truth.Machines), j.stuck.station, j.stuck.Plane, j.one, m.Up,
				m.Left, v.Square, v.Most, v.Suspects)
		}
	}
	t.Logf("one station stuck: named first in %d of %d, alone in %d; all went: nothing accused in %d of %d", named,
		stuck, alone, quiet, other)
	assert.GreaterOrEqual(t, named, jobs*90/100)
	assert.GreaterOrEqual(t, quiet, jobs*190/100)
}

// Every station of the turbine example that moves far enough goes its move twice, not at all or the other way, up and
// down or sideways, all else as planned and by true geometry: it is named with what it did, if with others that the
// readings can't tell from it.
func TestEachStationOfTheTurbine(t *testing.T) {
	text, err := os.ReadFile("../../examples/turbine/before.toml")
	require.NoError(t, err)
	tr := trains.Read(t, "turbine", string(text))
	trains.Cold(tr)
	plan, err := optimize.Make(t.Context(), tr, optimize.Options{Brief: true})
	require.NoError(t, err)
	require.Equal(t, optimize.Planned, plan.Status)
	before, planned := atRest(tr, tr.Stay()), atRest(tr, plan.Moves)
	tried := map[Cause]int{}
	for i := range tr.Machines {
		for s, feet := range tr.Machines[i].Stations() {
			for _, plane := range []Plane{Vertical, Sideways} {
				for _, w := range ways() {
					made, far := tr.Stay(), 0.0
					for m := range made {
						copy(made[m], plan.Moves[m])
					}
					for _, f := range feet {
						if plane == Vertical {
							far = made[i][f].Up
							made[i][f].Up += w.off * far
						} else {
							far = made[i][f].Left
							made[i][f].Left += w.off * far
						}
					}
					if math.Abs(far) < smallest-1e-9 {
						continue
					}
					tried[w.cause]++
					c := &Case{Train: tr, Moves: plan.Moves, Placing: 0.01}
					error := train.Tilt{Offset: 0.005, Angle: 0.01}
					for k, now := range atRest(tr, made) {
						for _, p := range []*Pose{&before[k], &planned[k], &now} {
							p.Gap = math.NaN()
						}
						c.Couplings = append(c.Couplings, Coupling{Before: before[k], Planned: planned[k], Now: now,
							Error: train.Misalignment{V: error, H: error}})
					}
					v := judged(t, c)
					assert.True(t, slices.ContainsFunc(v.Suspects, func(x Suspect) bool {
						return x.Cause == w.cause && x.Machine == i && x.Plane == plane && x.Feet != nil && x.station == s
					}), "%s, station %d, plane %d, cause %d: %+v", tr.Machines[i].Name, s, plane, w.cause, v.Suspects)
				}
			}
		}
	}
	for _, w := range ways() {
		assert.GreaterOrEqual(t, tried[w.cause], 4, "cause %d", w.cause)
	}
}
