package readings

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/train"
)

// agreeing is a train of four machines whose survey says just what was found: all
// level, each shaft 0.1 above the one before and 0.2 to its left.
func agreeing() *train.Train {
	var points [][][3]float64
	for i := range 4 {
		v, h := 0.1*float64(i), 0.2*float64(i)
		points = append(points, [][3]float64{{0, v, h}, {500, v, h}, {1000, v, h}})
	}
	t := surveyed([]float64{0, 2000, 4000, 6000}, []float64{1500, 3500, 5500}, points...)
	for k := range t.Couplings {
		c := &t.Couplings[k]
		c.Surveyed, c.Found = false, train.Misalignment{V: train.Tilt{Offset: 0.1}, H: train.Tilt{Offset: 0.2}}
	}
	for i := range t.Machines {
		for k := range t.Machines[i].Points {
			t.Machines[i].Points[k].Error = 0.01
		}
	}
	t.Errors = train.Errors{Offset: 0.02, Angle: 0.05}
	return t
}

// Each check of a survey on a train that has its fault.
func TestSurveyChecks(t *testing.T) {
	for _, c := range []struct {
		why     string
		corrupt func(t *train.Train)
		kind    train.CheckKind // -1: nothing fails
		size    float64
		says    string
	}{
		{"nothing wrong", func(*train.Train) {}, -1, 0, ""},
		{"a point copied", func(t *train.Train) { m := &t.Machines[1]; m.Points = append(m.Points, m.Points[0]) },
			train.CheckCopy, 0,
			`the point of "b" at x = 0 is there twice, the same to the last digit; if it was copied`},
		// The line goes up by 0.06 / 3 = 0.02: 0.04 is left.
		{"a point 0.06 off", func(t *train.Train) { t.Machines[1].Points[1].V += 0.06 }, train.CheckPoint, 0.04,
			`the point of "b" at x = 500 is 0.04 mm off the line`},
		// A line through points at 0, 500 and 1000 is 1000 from their middle good to 0.01 × sqrt(1/3 + 2); two of them to
		// 0.0216, with 0.02 of what was found 0.0294.
		{"one coupling read 0.3 too high: its neighbours agree",
			func(t *train.Train) { t.Couplings[1].Found.V.Offset += 0.3 }, train.CheckSurvey, 0.3,
			`at coupling "q" survey and what is given as found differ by 0.3 mm, over 0.1 mm; errors explain 0.029`},
		{"what that looks like", func(t *train.Train) { t.Couplings[1].Found.V.Offset += 0.3 }, train.CheckSurvey, 0.3,
			"the couplings beside it agree with the survey"},
		{"and the sum is as much off", func(t *train.Train) { t.Couplings[1].Found.V.Offset += 0.3 }, train.CheckClosure, 0.3,
			`round the train, from coupling "p" to "r", survey and readings differ by 0.3 mm, over`},
		{"an angle read 0.6 mrad off: 2 m further on, at 5500, that is 1.2 mm",
			func(t *train.Train) { t.Couplings[1].Found.V.Angle -= 0.6 }, train.CheckClosure, 1.2, ""},
		{"the angle itself", func(t *train.Train) { t.Couplings[1].Found.V.Angle -= 0.6 }, train.CheckSurveyAngle, 0.6,
			`at coupling "q" the angles of the survey and of what is given as found differ by 0.6 mrad, over 0.5 mrad`},
		{"all points of one machine 0.25 too high: both its couplings, the opposite ways", func(t *train.Train) {
			for k := range t.Machines[2].Points {
				t.Machines[2].Points[k].V += 0.25
			}
		}, train.CheckSurvey, 0.25, `the couplings of "c" differ by as much the opposite ways: look at its points`},
		{"left and right swapped: 2 × 0.2 at each coupling", func(t *train.Train) {
			for i := range t.Machines {
				for k := range t.Machines[i].Points {
					t.Machines[i].Points[k].H *= -1
				}
			}
		}, train.CheckSurvey, 0.4, "with left and right of the survey swapped they agree: h is + to the left"},
	} {
		tr := agreeing()
		c.corrupt(tr)
		s := surveyOf(tr)
		if c.kind < 0 {
			assert.Empty(t, s.Checks, c.why)
			require.Len(t, s.Closures, 1)
			equal(t, 0, s.Closures[0].V.Offset, 1e-12, c.why)
			continue
		}
		var found *train.SurveyCheck
		for i := range s.Checks {
			if s.Checks[i].Kind == c.kind {
				found = &s.Checks[i]
				break
			}
		}
		require.NotNil(t, found, "%s: %v", c.why, s.Checks)
		equal(t, c.size, found.Size, 1e-9, c.why)
		message, hint := SurveyWords(tr, *found)
		assert.Contains(t, message+"; "+hint, c.says, c.why)
	}
}

// Points that are off by as much in all of one machine leave no sum: it is taken by
// the shafts at its ends.
func TestSumOfAMachineInBetween(t *testing.T) {
	tr := agreeing()
	for k := range tr.Machines[2].Points {
		tr.Machines[2].Points[k].V += 0.25
	}
	s := surveyOf(tr)
	require.Len(t, s.Closures, 1)
	equal(t, 0, s.Closures[0].V.Offset, 1e-12, "0.25 - 0.25")
}

// What the errors explain is no fault: over the threshold, and within them.
func TestErrorsExplain(t *testing.T) {
	tr := agreeing()
	tr.Couplings[0].Found.V.Offset += 0.15
	require.NotEmpty(t, surveyOf(tr).Checks)
	tr.Errors = train.Errors{Offset: 0.2, Angle: 0.3}
	assert.Empty(t, surveyOf(tr).Checks)
}

// A sum goes along couplings in a row that were read; where one was not, it ends.
func TestRoundsEnd(t *testing.T) {
	tr := agreeing()
	tr.Couplings[1].Surveyed = true
	assert.Empty(t, surveyOf(tr).Closures)
	tr = agreeing()
	tr.Couplings[0].Surveyed = true
	s := surveyOf(tr)
	require.Len(t, s.Closures, 1)
	assert.Equal(t, [2]int{1, 2}, [2]int{s.Closures[0].First, s.Closures[0].Last})
}
