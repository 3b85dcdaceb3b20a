package train

import "math"

// A Basis says what the errors of a fit come from.
type Basis int

const (
	BasisUnknown   Basis = iota // nothing says: as many unknowns as readings, and no errors stated
	BasisResiduals              // what the readings leave to the fit, repeats among them
	BasisStated                 // the errors stated for every instrument
	BasisGiven                  // the train file's [errors]
)

// A Fit is what a coupling's readings come to: the least-squares fit of package train/readings.
type Fit struct {
	Found     Misalignment // of the To shaft against the From shaft, at the coupling's plane
	Standard  Misalignment // standard errors, mm and mrad; NaN where Basis is BasisUnknown or BasisGiven
	Half      Misalignment // 95 % half-widths, mm and mrad; NaN where Basis is BasisUnknown
	FarV      float64      // mm, 95 % half-width of the line at the farthest foot, vertical; NaN where not known
	FarH      float64      // the same, horizontal
	Basis     Basis
	Freedom   int     // readings beyond the unknowns
	Condition float64 // ratio of the largest to the smallest singular value, each unknown in a unit of its own: 1 is best
	// mm, standard error of one reading as the residuals show it, for an instrument of no stated error; NaN without
	// freedom
	Scatter float64
	Dials   []DialFit
	Checks  []ReadingCheck // that failed, in the order of the dials
	// each alone explains what failed, the likeliest first; nil where none does
	Mistakes []Mistake

	CovV, CovH Covariance // of the offset and the angle in each plane, readings of unit standard error
	Times      float64    // ratio, 95 % half-width to those standard errors; NaN where not known
}

// A Covariance is that of the offset and the angle of one plane.
type Covariance struct {
	Offset float64 // mm², variance
	Cross  float64 // mm mrad
	Angle  float64 // mrad², variance
}

// Along is the standard error in mm of the line at a distance in mm from the plane of the offset.
func (c Covariance) Along(distance float64) float64 {
	arm := distance / 1000
	return math.Sqrt(c.Offset + 2*arm*c.Cross + arm*arm*c.Angle)
}

// HalfAt is the 95 % half-width in mm of the line at a distance in mm from the coupling's plane; NaN
// where not known, or where the train file's [errors] say it.
func (f *Fit) HalfAt(distance float64) (v, h float64) {
	return f.Times * f.CovV.Along(distance), f.Times * f.CovH.Along(distance)
}

// A DialFit is one instrument's own share of a fit, sag and second order taken out.
type DialFit struct {
	V, H      float64   // of a rim or an offset: mm, To against From at its station; of a face: slope in mrad
	Corrected []float64 // mm, at each of its positions, + pushed in, less the dial's own constant
	Residual  []float64 // mm, of each reading from the fit; of an offset: vertical, horizontal
	Ring      float64   // mm, top + bottom - left - right as read; NaN where those were not all read
}
