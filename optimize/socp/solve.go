package socp

import "math"

// A Solver solves one program after another on the same memory. The zero value
// is ready. It is not for use by several goroutines at once.
type Solver struct {
	layout  layout
	scaling scaling
	factor  factor
	qr      orthogonal
	v       []float64 // W⁻¹ G

	point, best point
	merit       float64 // of best, see progress

	h           []float64 // right-hand side iterated on: layout.h, or relaxed
	rx, rz      []float64 // G'z + cτ and s + Gx − hτ
	rt          float64   // κ + c'x + h'z
	cx, hz      float64
	fixed, step direction // for the right-hand sides (−c, h) and of the step
	ds, wb, wh  []float64 // step of s; W⁻¹b and W⁻¹h
	ws, wrz     []float64 // W⁻¹ds and W⁻¹rz
	a           []float64
	r, dx, size []float64 // work space of n
	du, dz, y   []float64 // work space of m

	proof []float64 // z behind bound
	bound float64   // rigorous, in the layout's scale

	set      Settings
	its      int
	factored bool // factor and scaling hold those of some point
}

// A point of the embedding: x/τ, s/τ and z/τ are what is looked for.
type point struct {
	x, s, z    []float64
	tau, kappa float64
}

func (p *point) resize(l *layout) {
	p.x, p.s, p.z = resize(p.x, l.n), resize(p.s, l.m), resize(p.z, l.m)
}

func (p *point) copy(q *point) {
	copy(p.x, q.x)
	copy(p.s, q.s)
	copy(p.z, q.z)
	p.tau, p.kappa = q.tau, q.kappa
}

// Solve solves p. It panics on a malformed program; see Program.Check.
func (s *Solver) Solve(p *Program, set Settings) Result {
	if err := p.Check(); err != nil {
		panic(err)
	}
	if set.Tolerance == 0 {
		set.Tolerance = DefaultTolerance
	}
	if set.MaxIterations == 0 {
		set.MaxIterations = DefaultIterations
	}
	s.set = set
	if ray := p.constant(); ray != nil {
		return Result{Status: Infeasible, Z: ray, Value: math.NaN(), Bound: math.Inf(1)}
	}
	s.layout.arrange(p, set.Tolerance)
	if s.layout.free(p) {
		return Result{Status: Uncertain, Value: math.NaN(), Bound: math.Inf(-1)}
	}
	s.prepare()
	status, attempts := Uncertain, 0
	relaxed := false
	for status == Uncertain && attempts < 3 && !(attempts > 0 && s.ended()) {
		attempts++
		if attempts == 3 {
			s.relax()
			relaxed = true
		}
		status = s.attempt(attempts > 1)
	}
	out := s.result(p, status)
	out.Attempts, out.Relaxed = attempts, relaxed && out.X != nil
	return out
}

func (s *Solver) ended() bool { return s.set.Ended != nil && s.set.Ended() }

func (s *Solver) prepare() {
	l := &s.layout
	n, m := l.n, l.m
	s.scaling.resize(l)
	s.factor.envelope(l)
	s.v = resize(s.v, len(l.g))
	s.point.resize(l)
	s.best.resize(l)
	s.fixed.resize(l)
	s.step.resize(l)
	for _, v := range []*[]float64{&s.rx, &s.a, &s.r, &s.dx, &s.size} {
		*v = resize(*v, n)
	}
	for _, v := range []*[]float64{&s.h, &s.rz, &s.ds, &s.wb, &s.wh, &s.ws, &s.wrz, &s.du, &s.dz, &s.y, &s.proof} {
		*v = resize(*v, m)
	}
	copy(s.h, l.h)
	s.bound, s.merit, s.its = math.Inf(-1), math.Inf(1), 0
	s.factored = false
}

// relax moves half-lines and heads outwards.
func (s *Solver) relax() {
	l := &s.layout
	for k := range l.cones {
		s.h[l.row[k]] += l.rowTol[k] / s.set.Tolerance * Relaxation
	}
	s.merit = math.Inf(1)
}

// attempt runs the iteration from its start. qr says which factors.
func (s *Solver) attempt(qr bool) Status {
	l := &s.layout
	s.start()
	least, stalled := math.Inf(1), 0
	for it := 0; ; it++ {
		s.residuals()
		merit := s.progress()
		if merit <= 1 {
			return Optimal
		}
		if status := s.early(); status != Unsolved {
			return status
		}
		if qr && merit < late {
			s.improve(s.point.z, 1/s.point.tau)
		}
		stalled++
		if merit < least {
			least, stalled = merit, 0
		}
		if s.ended() || it == s.set.MaxIterations || stalled > patience {
			return Uncertain
		}
		if !s.scaling.update(l, s.point.s, s.point.z) {
			return Uncertain
		}
		s.scaling.matrix(l, s.v)
		if qr {
			s.qr.factorize(l, &s.factor, s.v)
		} else {
			s.factor.normal(l, s.v)
			s.factor.cholesky()
		}
		s.its++
		s.factored = true
		if !s.advance() {
			return Uncertain
		}
	}
}

// startSlack is where every s begins, z beginning at 1. With the largest h in
// [1/2, 1), values from 1/16 to 1 took 12.2 to 12.9 iterations over random chains
// and 14.8 to 18.5 over those without an interior.
const startSlack = 0.25

// late is the merit under which attempts after the first look for a bound at
// every point: they may end without an optimum.
const late = 1e6

// patience is how many iterations in a row may go by without a better point.
const patience = 20

// start is a multiple of the cones' identity for s and for z.
func (s *Solver) start() {
	l, p := &s.layout, &s.point
	clear(p.x)
	clear(p.s)
	clear(p.z)
	for k := range l.cones {
		p.s[l.row[k]], p.z[l.row[k]] = startSlack, 1
	}
	p.tau, p.kappa = 1, 1
}

func (s *Solver) residuals() {
	l, p := &s.layout, &s.point
	s.cx, s.hz = dot(l.c, p.x), dot(s.h, p.z)
	for j, c := range l.c {
		s.rx[j] = c * p.tau
	}
	l.transposed(s.rx, p.z, l.g)
	l.times(s.rz, p.x, l.g)
	for i := range s.rz {
		s.rz[i] += p.s[i] - s.h[i]*p.tau
	}
	s.rt = p.kappa + s.cx + s.hz
}

// advance takes one predictor-corrector step; false where none can be taken.
func (s *Solver) advance() bool {
	l, p, w := &s.layout, &s.point, &s.scaling
	mu := (dot(w.lambda, w.lambda) + p.tau*p.kappa) / float64(l.cones+1)
	enough := s.enough()

	for j, c := range l.c {
		s.a[j] = -c
	}
	w.over(l, s.wh, s.h)
	s.direct(&s.fixed, s.a, s.wh, enough/p.tau)
	slope := dot(s.fixed.u, s.fixed.u) + p.kappa/p.tau

	// Predictor: straight at the solution. Only W dz and W⁻¹ds are wanted, and
	// complementarity, −λ = W dz + W⁻¹ds, is a good enough source for the latter.
	d := &s.step
	w.over(l, s.wrz, s.rz)
	for j, v := range s.rx {
		d.x[j] = -v
	}
	for i, v := range s.wrz {
		s.wb[i] = w.lambda[i] - v
	}
	s.rough(d, s.wb)
	dtau := (s.rt - p.kappa + dot(l.c, d.x) + dot(s.wh, d.u)) / slope
	dkappa := -p.kappa - p.kappa/p.tau*dtau
	for i, v := range s.fixed.u {
		d.u[i] += dtau * v
		s.ws[i] = -w.lambda[i] - d.u[i]
	}
	alpha := min(1, s.reach(dtau, dkappa))

	// Corrector.
	sigma := (1 - alpha) * (1 - alpha) * (1 - alpha)
	w.correct(l, s.y, s.ws, s.step.u, sigma*mu)
	for j, v := range s.rx {
		s.a[j] = -(1 - sigma) * v
	}
	for i, v := range s.wrz {
		s.wb[i] = -(1-sigma)*v - s.y[i]
	}
	s.direct(d, s.a, s.wb, enough)
	complement := sigma*mu - p.tau*p.kappa - dtau*dkappa
	dtau = (complement/p.tau + (1-sigma)*s.rt + dot(l.c, d.x) + dot(s.h, d.z)) / slope
	dkappa = (complement - p.kappa*dtau) / p.tau
	for j, v := range s.fixed.x {
		d.x[j] += dtau * v
	}
	for i, v := range s.fixed.u {
		d.u[i] += dtau * v
		d.z[i] += dtau * s.fixed.z[i]
	}
	// The slack step comes from the primal equation, so that its residual falls
	// whatever the scaling has lost.
	l.times(s.ds, d.x, l.g)
	for i := range s.ds {
		s.ds[i] = dtau*s.h[i] - s.ds[i] - (1-sigma)*s.rz[i]
	}
	w.over(l, s.ws, s.ds)
	alpha = math.Min(1, stepShare*s.reach(dtau, dkappa))
	if !(alpha > shortest) {
		return false
	}
	for j := range p.x {
		p.x[j] += alpha * s.step.x[j]
	}
	for i := range p.s {
		p.s[i] += alpha * s.ds[i]
		p.z[i] += alpha * s.step.z[i]
	}
	p.tau += alpha * dtau
	p.kappa += alpha * dkappa
	return p.tau > 0 && p.kappa > 0
}

const (
	stepShare = 0.99 // of the way to the border
	shortest  = 1e-8 // a shorter step is a stall
)

// reach is the longest step that stays in the cones.
func (s *Solver) reach(dtau, dkappa float64) float64 {
	l, p := &s.layout, &s.point
	return 1 / max(s.scaling.depth(l, s.ws), s.scaling.depth(l, s.step.u), -dtau/p.tau, -dkappa/p.kappa)
}
