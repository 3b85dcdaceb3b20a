package train

import "math"

// An interval is all numbers from low to high. Its arithmetic does not round outwards:
// what it is used for is widened by far more than rounding comes to (roundOff).
type interval struct{ low, high float64 }

func exactly(x float64) interval { return interval{x, x} }

func (a interval) plus(b interval) interval { return interval{a.low + b.low, a.high + b.high} }

func (a interval) times(b interval) interval {
	p, q, r, s := a.low*b.low, a.low*b.high, a.high*b.low, a.high*b.high
	return interval{min(p, q, r, s), max(p, q, r, s)}
}

func (a interval) scaled(k float64) interval { return a.times(exactly(k)) }

// inverse is 1/a of an interval above zero; of any other one nothing is known.
func (a interval) inverse() interval {
	if !(a.low > 0) {
		return interval{math.Inf(-1), math.Inf(1)}
	}
	return interval{1 / a.high, 1 / a.low}
}

// most is the largest size of a number in the interval; +Inf where nothing is known.
func (a interval) most() float64 {
	m := math.Max(math.Abs(a.low), math.Abs(a.high))
	if math.IsNaN(m) {
		return math.Inf(1)
	}
	return m
}

// A jet is a function of a rotation vector (rad) over a box of them, or of two, a machine's and its base's:
// intervals that hold its value, its first derivatives, and its second ones in the order of pairs, by automatic
// differentiation (Griewank and Walther, "Evaluating Derivatives", 2nd ed., 2008) in interval arithmetic (Moore,
// "Interval Analysis", 1966).
type jet struct {
	n      int // components that it depends on: the first so many; what is beyond them is zero
	value  interval
	first  [6]interval
	second [21]interval
}

// pairs are the indices of second derivatives. Those of the first n components come first.
var pairs = [21][2]int{
	{0, 0}, {0, 1}, {1, 1}, {0, 2}, {1, 2}, {2, 2}, {0, 3}, {1, 3}, {2, 3}, {3, 3}, {0, 4}, {1, 4}, {2, 4}, {3, 4}, {4, 4},
	{0, 5}, {1, 5}, {2, 5}, {3, 5}, {4, 5}, {5, 5},
}

// seconds is how many second derivatives a jet has.
func (a *jet) seconds() int { return a.n * (a.n + 1) / 2 }

func constant(x float64) jet { return jet{value: exactly(x)} }

// rotation is component i itself.
func rotation(i int, over interval) jet {
	j := jet{n: i + 1, value: over}
	j.first[i] = exactly(1)
	return j
}

func (a jet) plus(b jet) jet {
	a.n = max(a.n, b.n)
	a.value = a.value.plus(b.value)
	for i := range a.n {
		a.first[i] = a.first[i].plus(b.first[i])
	}
	for i := range a.seconds() {
		a.second[i] = a.second[i].plus(b.second[i])
	}
	return a
}

func (a jet) scaled(k float64) jet {
	a.value = a.value.scaled(k)
	for i := range a.n {
		a.first[i] = a.first[i].scaled(k)
	}
	for i := range a.seconds() {
		a.second[i] = a.second[i].scaled(k)
	}
	return a
}

func (a jet) less(b jet) jet { return a.plus(b.scaled(-1)) }

func (a jet) times(b jet) jet {
	out := jet{n: max(a.n, b.n), value: a.value.times(b.value)}
	for i := range out.n {
		out.first[i] = a.first[i].times(b.value).plus(a.value.times(b.first[i]))
	}
	for n, ij := range pairs[:out.seconds()] {
		i, j := ij[0], ij[1]
		out.second[n] = a.second[n].times(b.value).plus(a.value.times(b.second[n])).
			plus(a.first[i].times(b.first[j])).plus(a.first[j].times(b.first[i]))
	}
	return out
}

// through is f(a), by intervals that hold f and its derivatives over a's values.
func (a jet) through(f, df, ddf interval) jet {
	out := jet{n: a.n, value: f}
	for i := range out.n {
		out.first[i] = df.times(a.first[i])
	}
	for n, ij := range pairs[:out.seconds()] {
		out.second[n] = df.times(a.second[n]).plus(ddf.times(a.first[ij[0]].times(a.first[ij[1]])))
	}
	return out
}

// inverse is 1/a.
func (a jet) inverse() jet {
	f := a.value.inverse()
	square := f.times(f)
	return a.through(f, square.scaled(-1), square.times(f).scaled(2))
}

// rotated are the three components of R(w) p, w a rotation vector over a box (rad), its components from some number on,
// by Rodrigues' formula
//
//	R p = p + A w×p + B w×(w×p),   A = sin θ/θ,   B = (1 − cos θ)/θ²,   θ = |w|.
//
// A and B are functions of s = θ²; their alternating series give ends for them and for
// their derivatives where s ≤ 1. Beyond that nothing is known.
func rotated(from int, box [3]interval, v [3]jet) [3]jet {
	var w [3]jet
	for i := range w {
		w[i] = rotation(from+i, box[i])
	}
	var s jet
	for i := range w {
		s = s.plus(w[i].times(w[i]))
	}
	// A square is never negative, which a product of intervals does not know.
	low, high := 0.0, 0.0
	for _, b := range box {
		if b.low > 0 || b.high < 0 {
			low += math.Pow(math.Min(math.Abs(b.low), math.Abs(b.high)), 2)
		}
		high += b.most() * b.most()
	}
	s.value = interval{low, high}
	if !(high <= 1) {
		nothing := jet{n: from + 3, value: interval{math.Inf(-1), math.Inf(1)}}
		for i := range nothing.n {
			nothing.first[i] = nothing.value
		}
		for i := range nothing.seconds() {
			nothing.second[i] = nothing.value
		}
		return [3]jet{nothing, nothing, nothing}
	}
	a := s.through(
		interval{1 - high/6, 1 - low/6 + low*low/120},
		interval{-1./6 + low/60 - low*low/1680, -1./6 + high/60},
		interval{1./60 - high/840, 1./60 - low/840 + low*low/30240})
	b := s.through(
		interval{1./2 - high/24, 1./2 - low/24 + low*low/720},
		interval{-1./24 + low/360 - low*low/13440, -1./24 + high/360},
		interval{1./360 - high/6720, 1./360 - low/6720 + low*low/302400})
	across := crossed(w, v)
	twice := crossed(w, across)
	var out [3]jet
	for i := range out {
		out[i] = v[i].plus(a.times(across[i])).plus(b.times(twice[i]))
	}
	return out
}

func crossed(a, b [3]jet) [3]jet {
	var out [3]jet
	for i := range out {
		j, k := (i+1)%3, (i+2)%3
		out[i] = a[j].times(b[k]).less(a[k].times(b[j]))
	}
	return out
}
