package readings

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// A system is a set of equations, each already divided by its standard error.
type system struct {
	unknowns   int
	eliminated int // unknowns that are no longer in the equations
	rows       [][]float64
	right      []float64
}

// add adds an equation with a standard error.
func (s *system) add(coefficients []float64, value, deviation float64) {
	r := make([]float64, s.unknowns)
	for i, c := range coefficients {
		r[i] = c / deviation
	}
	s.rows = append(s.rows, r)
	s.right = append(s.right, value/deviation)
}

// freedom is the number of equations beyond the unknowns.
func (s *system) freedom() int { return len(s.rows) - s.unknowns - s.eliminated }

// flat is the share of the largest singular value below which a combination of
// unknowns counts as not determined. Columns have unit length by then.
const flat = 1e-9

// A solution is where the sum of squares is least.
type solution struct {
	x          []float64
	covariance *mat.Dense // with equations of unit error
	condition  float64    // largest over smallest singular value, columns of unit length
}

// least solves the system; false where an unknown, or a combination of them,
// is not determined.
func (s *system) least() (solution, bool) {
	m, n := len(s.rows), s.unknowns
	if s.freedom() < 0 {
		return solution{}, false
	}
	a := mat.NewDense(m, n, nil)
	length := make([]float64, n)
	for j := range n {
		for i := range m {
			length[j] = math.Hypot(length[j], s.rows[i][j])
		}
		if length[j] == 0 {
			return solution{}, false
		}
		for i := range m {
			a.Set(i, j, s.rows[i][j]/length[j])
		}
	}
	var svd mat.SVD
	if !svd.Factorize(a, mat.SVDThin) {
		return solution{}, false
	}
	values := svd.Values(nil)
	if !(values[n-1] > flat*values[0]) {
		return solution{}, false
	}
	var u, v mat.Dense
	svd.UTo(&u)
	svd.VTo(&v)
	// With A = U S Vᵀ: x = V S⁻¹ Uᵀ b, covariance = V S⁻² Vᵀ.
	for j := range n {
		for i := range n {
			v.Set(i, j, v.At(i, j)/values[j]/length[i])
		}
	}
	var ub, x mat.VecDense
	ub.MulVec(u.T(), mat.NewVecDense(m, s.right))
	x.MulVec(&v, &ub)
	covariance := mat.NewDense(n, n, nil)
	covariance.Mul(&v, v.T())
	return solution{x.RawVector().Data, covariance, values[0] / values[n-1]}, true
}

// squares is the sum of squares that the solution leaves.
func (s *system) squares(x []float64) float64 {
	sum := 0.0
	for i, r := range s.rows {
		left := s.right[i]
		for j, c := range r {
			left -= c * x[j]
		}
		sum += left * left
	}
	return sum
}
