package diagnose

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"leastmove/train"
)

// Thresholds. Ours: no published ones were found.
const (
	// unlikely is the chance below which what was read is no longer put down to
	// errors of placing and reading.
	unlikely = 0.001
	// clearer is how many times better than errors alone a fault must explain what
	// was read, its prior weight counted, before anything is named.
	clearer = 100
	// alike is how many times better one explanation must be than another for the
	// readings to tell them apart.
	alike = 10
)

// A Verdict is what the readings after the moves say.
type Verdict struct {
	Square    float64   // weighted sum of squares of what was read less what was planned
	Most      float64   // that it may be by errors alone, in all but one of a thousand trains
	Freedom   int       // degrees of freedom of Square
	Off       bool      // it is more: something did not go as planned
	Suspects  []Suspect // the best explanation first, then those that can't be told from it; none where nothing is accused
	Left      float64   // of Square with the best explanation
	Enough    bool      // what is left may be errors alone
	Couplings []Expected
	Machines  []Motion
}

// A Suspect is a fault that explains what was read.
type Suspect struct {
	Fault
	Share float64 // of all that is weighed, 0 to 1
}

// Expected is how much of a difference errors alone make at one coupling:
// standard errors in mm and mrad.
type Expected struct {
	train.Misalignment
	Gap float64 // mm; NaN: not found
}

// A judge is one case under way.
type judge struct {
	c          *Case
	t          *train.Train
	kinematics []train.Kinematics
	rows       []rowOf
	y          []float64
	placing    []direction // of one standard error at each foot station
	s          *mat.SymDense
	chol       mat.Cholesky
	low        mat.TriDense // of the Cholesky factor
	z          []float64    // y, whitened
}

// Judge weighs what may have happened.
func Judge(c *Case) (*Verdict, error) {
	j := &judge{c: c, t: c.Train}
	var sigma []float64
	j.rows, j.y, sigma = c.rows()
	if len(j.rows) == 0 {
		return nil, errors.New("there are no readings to compare")
	}
	for i := range j.t.Machines {
		j.kinematics = append(j.kinematics, j.t.Machines[i].Kinematics())
	}
	j.place()
	n := len(j.rows)
	j.s = mat.NewSymDense(n, nil)
	for a := range n {
		j.s.SetSym(a, a, sigma[a]*sigma[a])
	}
	for _, d := range j.placing {
		j.s.SymRankOne(j.s, 1, mat.NewVecDense(n, d.shown))
	}
	if !j.chol.Factorize(j.s) {
		return nil, errors.New("the errors of reading and placing are too small to be worked with")
	}
	j.chol.LTo(&j.low)
	j.z = j.white(j.y)
	v := &Verdict{Square: dot(j.z, j.z), Freedom: n}
	v.Most = distuv.ChiSquared{K: float64(n)}.Quantile(1 - unlikely)
	v.Off = v.Square > v.Most
	v.Left, v.Enough = v.Square, !v.Off
	best := j.accuse(v)
	v.Couplings = j.expected()
	var err error
	v.Machines, err = j.motions(best)
	return v, err
}

// place writes down what errors of placing do: of every foot station of a moved
// machine, up and sideways; of every foot up where the machine may roll.
func (j *judge) place() {
	for i := range j.t.Machines {
		if !j.c.Moves.Moved(i) {
			continue
		}
		m := &j.t.Machines[i]
		add := func(feet []int, plane Plane) {
			by := make([]train.FootMove, len(m.Feet))
			for _, f := range feet {
				if plane == Vertical {
					by[f].Up = j.c.Placing
				} else {
					by[f].Left = j.c.Placing
				}
			}
			q := j.off(i, by)
			j.placing = append(j.placing, direction{i, q, j.shown(i, q)})
		}
		for _, feet := range m.Stations() {
			add(feet, Sideways)
			if !m.Roll {
				add(feet, Vertical)
				continue
			}
			for _, f := range feet {
				add([]int{f}, Vertical)
			}
		}
	}
}

// white is L⁻¹ x, with S = L Lᵀ.
func (j *judge) white(x []float64) []float64 {
	out := mat.NewVecDense(len(x), nil)
	// A triangular solve can't fail: the factor has a positive diagonal.
	if err := out.SolveVec(&j.low, mat.NewVecDense(len(x), append([]float64(nil), x...))); err != nil {
		var c mat.Condition
		if !errors.As(err, &c) {
			panic(err)
		}
	}
	return out.RawVector().Data
}

func dot(a, b []float64) float64 {
	var sum float64
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

// weighed is how much better a candidate explains y than errors alone, as a
// logarithm without its prior weight, and what it leaves of the square.
func (j *judge) weighed(c *candidate) (better, left float64) {
	r := append([]float64(nil), j.z...)
	if c.shift != nil {
		for i, m := range j.white(c.shift) {
			r[i] -= m
		}
	}
	k := len(c.free)
	left = dot(r, r)
	logDet := 0.0
	if k > 0 {
		f := make([][]float64, k)
		for a := range f {
			f[a] = j.white(c.free[a].shown)
		}
		g, b := mat.NewSymDense(k, nil), mat.NewVecDense(k, nil)
		for a := range k {
			for d := a; d < k; d++ {
				v := dot(f[a], f[d])
				if a == d {
					v++
				}
				g.SetSym(a, d, v)
			}
			b.SetVec(a, dot(f[a], r))
		}
		var chol mat.Cholesky
		if !chol.Factorize(g) { // 1 on the diagonal: it is positive
			panic("diagnose: a positive matrix has no factor")
		}
		x := mat.NewVecDense(k, nil)
		if err := chol.SolveVecTo(x, b); err != nil {
			return math.Inf(-1), left
		}
		left -= mat.Dot(b, x)
		logDet = chol.LogDet()
	}
	return (dot(j.z, j.z) - left - logDet) / 2, left
}

// accuse names what explains y, where that is not errors alone.
func (j *judge) accuse(v *Verdict) *candidate {
	if !v.Off {
		return nil
	}
	type weighing struct {
		candidate
		score, left float64
	}
	var all []weighing
	for _, c := range j.candidates() {
		better, left := j.weighed(&c)
		all = append(all, weighing{c, better + c.weight, left})
	}
	if len(all) == 0 {
		return nil
	}
	slices.SortStableFunc(all, func(a, b weighing) int { return cmp.Compare(b.score, a.score) })
	if all[0].score < math.Log(clearer) {
		return nil
	}
	var sum float64
	for _, w := range all {
		sum += math.Exp(w.score - all[0].score)
	}
	// Of every place the best explanation, with all that speaks for the place.
	for _, w := range all {
		share := math.Exp(w.score-all[0].score) / sum
		at := slices.IndexFunc(v.Suspects, func(s Suspect) bool { return s.same(&w.Fault) })
		if at < 0 {
			v.Suspects = append(v.Suspects, Suspect{Fault: w.Fault, Share: share})
			continue
		}
		v.Suspects[at].Share += share
	}
	slices.SortStableFunc(v.Suspects, func(a, b Suspect) int { return cmp.Compare(b.Share, a.Share) })
	first := v.Suspects[0].Share
	v.Suspects = slices.DeleteFunc(v.Suspects, func(s Suspect) bool { return s.Share*alike < first })
	for i := range all {
		if all[i].same(&v.Suspects[0].Fault) {
			v.Left = all[i].left
			free := len(all[i].free)
			v.Enough = v.Left <= distuv.ChiSquared{K: float64(max(1, v.Freedom-free))}.Quantile(1-unlikely)
			return &all[i].candidate
		}
	}
	return nil
}

// expected is what errors alone make at every coupling.
func (j *judge) expected() []Expected {
	out := make([]Expected, len(j.c.Couplings))
	for i := range out {
		out[i].Gap = math.NaN()
	}
	for n, r := range j.rows {
		e := &out[r.coupling]
		*[]*float64{&e.V.Offset, &e.V.Angle, &e.H.Offset, &e.H.Angle, &e.Gap}[r.part] = math.Sqrt(j.s.At(n, n))
	}
	return out
}
