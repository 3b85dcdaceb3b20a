package train

import "math"

// A Fit is what a coupling's readings come to: the least-squares fit of package train/readings.
type Fit struct {
	Found Misalignment // of the To shaft against the From shaft, at the coupling's plane
	Half  Misalignment // 95 % half-widths, mm and mrad
	FarV  float64      // mm, 95 % half-width of the line at the farthest foot, vertical; NaN where not known
	FarH  float64      // the same, horizontal
	Accuracy
	Condition float64 // ratio of the largest to the smallest singular value, each unknown in a unit of its own: 1 is best
	Dials     []DialFit
	Checks    []ReadingCheck // that failed, in the order of the dials
	// each alone explains what failed, the likeliest first; nil where none does
	Mistakes []Mistake

	CovV, CovH Covariance // of the offset and the angle in each plane, by the errors of the readings
}

// An Accuracy is how good the figures are that a fit was made of, by their own errors and by what is left of them.
type Accuracy struct {
	Freedom int     // figures beyond the unknowns
	Usual   float64 // mm, 95 % half-width that a figure of no stated error counts with; 0: all are stated
	Scatter float64 // mm, standard error of a figure of no stated error as the residuals show it; NaN without freedom
	Spread  float64 // ratio from 1, by which errors count larger than that, as the residuals disagree with them
}

// Times is the ratio of 95 % half-widths to standard errors of the covariance.
func (a Accuracy) Times() float64 { return Half95 * a.Spread }

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

// HalfAt is the 95 % half-width in mm of the line at a distance in mm from the coupling's plane.
func (f *Fit) HalfAt(distance float64) (v, h float64) {
	return f.Times() * f.CovV.Along(distance), f.Times() * f.CovH.Along(distance)
}

// A DialFit is one instrument's own share of a fit, sag and second order taken out.
type DialFit struct {
	V, H      float64   // of a rim or an offset: mm, To against From at its station; of a face: slope in mrad
	Corrected []float64 // mm, at each of its positions, + pushed in, less the dial's own constant
	Residual  []float64 // mm, of each reading from the fit; of an offset: vertical, horizontal
	Ring      float64   // mm, top + bottom - left - right as read; NaN where those were not all read
}
