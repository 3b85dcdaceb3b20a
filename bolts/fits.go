// Package bolts says what holes are drilled for a bolt where nobody measured them, what threads leave of its shank, and
// what packs of shims can be made of the stock. Lengths are in mm.
package bolts

import "math"

// ClearanceHole is the hole in mm that a standard gives for a bolt with a
// nominal diameter in mm, for a foot whose hole nobody measured. Machine feet
// are often drilled to none of these: a measured hole comes first. It is false
// for a bolt or a fit that the tables below do not hold.
//
// Where inch is false the hole is that of ISO 273, and fit is "fine", "medium"
// or "coarse". Where inch is true it is the smallest hole of ASME B18.2.8, and
// fit is "close", "normal" or "loose", or the ISO word for the same column.
func ClearanceHole(bolt float64, fit string, inch bool) (hole float64, ok bool) {
	column := -1
	for i := range isoWords {
		if fit == isoWords[i] || inch && fit == inchWords[i] {
			column = i
		}
	}
	if column < 0 {
		return math.NaN(), false
	}
	table, unit := isoHoles[:], 1.0
	if inch {
		table, unit = inchHoles[:], 25.4
	}
	for _, row := range table {
		if math.Abs(row[0]*unit-bolt) <= nominal {
			return row[1+column] * unit, true
		}
	}
	return math.NaN(), false
}

// nominal is how far in mm a bolt as typed may be from the nominal diameter:
// 5/16 inch is often written 0.312 or 0.313.
const nominal = 0.02

// The words for the three columns of holes.
var (
	isoWords  = [3]string{"fine", "medium", "coarse"}
	inchWords = [3]string{"close", "normal", "loose"}
)

// isoHoles are the bolt and its fine (H12), medium (H13) and coarse (H14) hole
// in mm, after ISO 273. M6 to M16 as in a maker's table of the standard. M18
// and up as printed in BS 4186 (Machinery's Handbook, 31st ed., p. 2173); that
// ISO 273 has the same values there is from memory, but for the medium column
// of M20 to M36, which was seen.
var isoHoles = [...][4]float64{
	{6, 6.4, 6.6, 7},
	{8, 8.4, 9, 10},
	{10, 10.5, 11, 12},
	{12, 13, 13.5, 14.5},
	{14, 15, 15.5, 16.5},
	{16, 17, 17.5, 18.5},
	{18, 19, 20, 21},
	{20, 21, 22, 24},
	{22, 23, 24, 26},
	{24, 25, 26, 28},
	{27, 28, 30, 32},
	{30, 31, 33, 35},
	{33, 34, 36, 38},
	{36, 37, 39, 42},
	{39, 40, 42, 45},
	{42, 43, 45, 48},
	{45, 46, 48, 52},
	{48, 50, 52, 56},
	{52, 54, 56, 62},
	{56, 58, 62, 66},
	{60, 62, 66, 70},
	{64, 66, 70, 74},
}

// inchHoles are the bolt and its smallest close, normal and loose hole in
// inches, after ASME B18.2.8: the loose column as printed in Machinery's
// Handbook, 31st ed., p. 1741, the others from a table of the standard. From
// 1-1/8 on the close and normal columns are from memory.
var inchHoles = [...][4]float64{
	{1. / 4, .266, .281, .297},
	{5. / 16, .328, .344, .359},
	{3. / 8, .391, .406, .422},
	{7. / 16, .453, .469, .484},
	{1. / 2, .531, .562, .609},
	{5. / 8, .656, .688, .734},
	{3. / 4, .781, .812, .906},
	{7. / 8, .906, .938, 1.031},
	{1, 1.031, 1.094, 1.156},
	{1 + 1./8, 1.156, 1.219, 1.312},
	{1 + 1./4, 1.281, 1.344, 1.438},
	{1 + 3./8, 1.438, 1.500, 1.609},
	{1 + 1./2, 1.562, 1.625, 1.734},
}
