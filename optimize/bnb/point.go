package bnb

import (
	"math"

	"leastmove/optimize/mip"
)

// A grid is a problem made ready for judging points: which rows each
// variable enters, in whole steps.
type grid struct {
	*mip.Problem
	rowStart []int       // first row of each limit, and one more
	owner    []int       // limit of each row
	constant []float64   // of each row
	terms    [][]rowTerm // of each variable
	limitsOf [][]int     // limits that each variable enters, ascending
	from, to mip.Steps   // box in steps
	lo, hi   mip.Steps   // the same, its ends brought in to where the variables may be
	open     [][]bool    // of each variable with a list: whether it may be at lo, lo + 1, ...; nil: any step
	first    []int       // first variable of each block, and one more
}

// moved says whether a block can't stay as it is within a box.
func (l *grid) moved(block int, lo, hi mip.Steps) bool {
	for j := l.first[block]; j < l.first[block+1]; j++ {
		if lo[j] > 0 || hi[j] < 0 {
			return true
		}
	}
	return false
}

type rowTerm struct {
	row         int
	coefficient float64 // of one step
}

// slack is how far, as a share of its radius, a point may stand over a limit
// and still count as within: it covers rounding in sums, nothing more.
const slack = 1e-9

func newGrid(p *mip.Problem) *grid {
	l := &grid{
		Problem: p, terms: make([][]rowTerm, len(p.Vars)), limitsOf: make([][]int, len(p.Vars)),
		lo: make(mip.Steps, len(p.Vars)), hi: make(mip.Steps, len(p.Vars)),
	}
	for i := range p.Limits {
		l.rowStart = append(l.rowStart, len(l.constant))
		for _, r := range p.Limits[i].Rows {
			for _, t := range r.Terms {
				l.terms[t.Var] = append(l.terms[t.Var], rowTerm{len(l.constant), t.Coefficient * p.Vars[t.Var].Step})
				if n := len(l.limitsOf[t.Var]); n == 0 || l.limitsOf[t.Var][n-1] != i {
					l.limitsOf[t.Var] = append(l.limitsOf[t.Var], i)
				}
			}
			l.constant, l.owner = append(l.constant, r.Constant), append(l.owner, i)
		}
	}
	l.rowStart = append(l.rowStart, len(l.constant))
	for j, v := range p.Vars {
		l.lo[j] = int(math.Ceil(v.Lo/v.Step - slack))
		l.hi[j] = int(math.Floor(v.Hi/v.Step + slack))
		for len(l.first) <= v.Block {
			l.first = append(l.first, j)
		}
	}
	l.first = append(l.first, len(p.Vars))
	l.from, l.to = append(mip.Steps(nil), l.lo...), append(mip.Steps(nil), l.hi...)
	p.Shut(l.lo, l.hi)
	l.list()
	return l
}

// list opens the listed steps in the box.
func (l *grid) list() {
	l.open = make([][]bool, len(l.Vars))
	for j := range l.Vars {
		if l.Vars[j].Only == nil || l.lo[j] > l.hi[j] {
			continue
		}
		l.open[j] = make([]bool, l.hi[j]-l.lo[j]+1)
		for _, n := range l.Vars[j].Only {
			if n >= l.lo[j] && n <= l.hi[j] {
				l.open[j][n-l.lo[j]] = true
			}
		}
	}
}

// A point is an integer point with the values of all rows beside it.
type point struct {
	steps mip.Steps
	rows  []float64
}

// at evaluates a point afresh.
func (l *grid) at(steps mip.Steps) point {
	p := point{steps: append(mip.Steps(nil), steps...), rows: make([]float64, len(l.constant))}
	l.afresh(&p)
	return p
}

// afresh works out the rows of a point from its steps.
func (l *grid) afresh(p *point) {
	copy(p.rows, l.constant)
	for j, n := range p.steps {
		for _, t := range l.terms[j] {
			p.rows[t.row] += float64(n) * t.coefficient
		}
	}
}

// step moves variable j of the point by n steps.
func (l *grid) step(p *point, j, n int) {
	p.steps[j] += n
	for _, t := range l.terms[j] {
		p.rows[t.row] += float64(n) * t.coefficient
	}
}

// share is how much of limit i, taken at its full radius, the rows take up.
func (l *grid) share(i int, rows []float64) float64 {
	r := rows[l.rowStart[i]:l.rowStart[i+1]]
	switch len(r) {
	case 1:
		return math.Abs(r[0]) / l.Limits[i].Radius
	case 2:
		return math.Sqrt(r[0]*r[0]+r[1]*r[1]) / l.Limits[i].Radius
	}
	return math.Sqrt(r[0]*r[0]+r[1]*r[1]+r[2]*r[2]) / l.Limits[i].Radius
}

// use is the largest share of any shared limit, +Inf where another limit or
// the box is exceeded.
func (l *grid) use(p *point) float64 {
	var worst float64
	for i := range l.Limits {
		s := l.share(i, p.rows)
		if l.Limits[i].Shared {
			worst = math.Max(worst, s)
		} else if s > 1+slack {
			return math.Inf(1)
		}
	}
	return worst
}

// cost is Σ weight |x| + slope x and the fixed costs of blocks that move.
func (l *grid) cost(steps mip.Steps) float64 {
	var sum float64
	for j, n := range steps {
		v := &l.Vars[j]
		sum += v.Weight*v.Step*math.Abs(float64(n)) + v.Slope*v.Step*float64(n)
	}
	for b, fixed := range l.FixedCost {
		for j := l.first[b]; j < l.first[b+1]; j++ {
			if steps[j] != 0 {
				sum += fixed
				break
			}
		}
	}
	return sum
}

// squares is Σ weight x², the measure between points that are otherwise alike.
func (l *grid) squares(steps mip.Steps) float64 {
	var sum float64
	for j, n := range steps {
		x := l.Vars[j].Step * float64(n)
		sum += l.Vars[j].Weight * x * x
	}
	return sum
}

// grain is a number of which every point's cost is a whole multiple, or 0
// where none was found that is worth having: a lower bound may be raised to
// the next multiple.
func (l *grid) grain() float64 {
	const unit = 1e-7 // mm: costs per step are looked at in these
	g := 0
	costs := append([]float64(nil), l.FixedCost...)
	for _, v := range l.Vars {
		if v.Slope != 0 {
			return 0
		}
		costs = append(costs, v.Weight*v.Step)
	}
	for _, c := range costs {
		c /= unit
		n := math.Round(c)
		if math.Abs(c-n) > 1e-6*math.Max(1, c) || n > 1e12 {
			return 0
		}
		g = gcd(g, int(n))
	}
	if float64(g)*unit < 1e-3 {
		return 0
	}
	return float64(g) * unit
}

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
