package bolts

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Thread reads the name of a coarse bolt thread and gives its nominal diameter
// and its minor diameter in mm, and whether it is one of the inch series:
// "M24" of ISO 261, or "1 1/8 in" of ASME B1.1 (UNC), which may be written
// "1-1/8 in", "1.125 in" or with inch or " for in. The error says in one line
// what may be written instead.
func Thread(name string) (diameter, minor float64, inch bool, err error) {
	text := strings.TrimSpace(name)
	if rest, is := cutMetric(text); is {
		diameter, minor, err = metric(rest)
		return diameter, minor, false, err
	}
	size, is := cutInch(text)
	d, readable := fraction(size)
	switch {
	case is && readable:
		diameter, minor, err = unified(d * inchInMm)
		return diameter, minor, true, err
	case readable && strings.Contains(size, "/"):
		err = fmt.Errorf("for a bolt of %s inch write \"%s in\"", size, size)
	default:
		err = fmt.Errorf("write a thread as \"M24\" or \"1 1/8 in\"")
	}
	return math.NaN(), 0, false, err
}

// Minor is the minor diameter in mm of the coarse thread with exactly this
// nominal diameter in mm, of ISO 261 or, where inch is true, of ASME B1.1
// (UNC); 0 where there is none.
func Minor(diameter float64, inch bool) float64 {
	for _, t := range coarse(inch) {
		if math.Abs(t.diameter-diameter) <= exactly {
			return t.minor()
		}
	}
	return 0
}

// exactly is what rounding may do to a diameter in mm that was typed.
const exactly = 1e-6

const inchInMm = 25.4

// A thread is one row of a series, in mm.
type thread struct{ diameter, pitch float64 }

// minor is the diameter d3 in mm at the root of a bolt's thread, for the
// profile of ISO 68-1 with a root rounded to H/6: d3 = d - 17/12 H =
// d - 1.22687 P, with H = P √3/2 (published beside ISO 965-1 and in DIN 13-1).
// The unified thread has the same profile. ASME B1.1 now prints the root of
// UNR bolts, d - 1.19078 P, which is larger by 0.036 P.
func (t thread) minor() float64 { return t.diameter - 17.0/12*math.Sqrt(3)/2*t.pitch }

// coarse is a series of coarse threads, by diameter.
func coarse(inch bool) []thread {
	var series []thread
	if !inch {
		for _, row := range isoCoarse {
			series = append(series, thread{row[0], row[1]})
		}
		return series
	}
	for _, row := range unc {
		series = append(series, thread{row[0] * inchInMm, inchInMm / row[1]})
	}
	return series
}

// isoCoarse are the nominal diameter and the coarse pitch in mm, after ISO 261
// (the sizes of ISO 262 among them). M12 and up, but for M14, M18 and M22, were
// checked against the table of DIN 2509, the others against a maker's table.
var isoCoarse = [...][2]float64{
	{6, 1}, {7, 1}, {8, 1.25}, {10, 1.5}, {12, 1.75}, {14, 2}, {16, 2}, {18, 2.5}, {20, 2.5}, {22, 2.5}, {24, 3}, {27, 3},
	{30, 3.5}, {33, 3.5}, {36, 4}, {39, 4}, {42, 4.5}, {45, 4.5}, {48, 5}, {52, 5}, {56, 5.5}, {60, 5.5}, {64, 6},
}

// unc are the nominal diameter in inches and the threads per inch of the UNC
// series of ASME B1.1, checked against two makers' tables of it.
var unc = [...][2]float64{
	{1. / 4, 20}, {5. / 16, 18}, {3. / 8, 16}, {7. / 16, 14}, {1. / 2, 13}, {9. / 16, 12}, {5. / 8, 11},
	{3. / 4, 10}, {7. / 8, 9},
	{1, 8}, {1 + 1./8, 7}, {1 + 1./4, 7}, {1 + 3./8, 6}, {1 + 1./2, 6}, {1 + 3./4, 5}, {2, 4.5}, {2 + 1./4, 4.5},
	{2 + 1./2, 4},
	{2 + 3./4, 4}, {3, 4}, {3 + 1./4, 4}, {3 + 1./2, 4}, {3 + 3./4, 4}, {4, 4},
}

// metric is the thread named by what stands behind the M: 24, or 24x3.
func metric(text string) (diameter, minor float64, err error) {
	size, pitch, pitched := text, "", false
	if at := strings.IndexAny(text, "xX×"); at >= 0 {
		size, pitch, pitched = text[:at], strings.TrimLeft(text[at:], "xX×"), true
	}
	d, ok := decimal(strings.TrimSpace(size))
	p, okPitch := decimal(strings.TrimSpace(pitch))
	if !ok || pitched && !okPitch {
		return math.NaN(), 0, fmt.Errorf("write a metric thread as \"M24\"")
	}
	series := coarse(false)
	for _, t := range series {
		if math.Abs(t.diameter-d) > exactly {
			continue
		}
		if pitched && math.Abs(t.pitch-p) > exactly {
			return math.NaN(), 0, fmt.Errorf("only coarse threads are known here, M%v has a pitch of %v mm: give the "+
				"bolt's diameter as a number", t.diameter, t.pitch)
		}
		return t.diameter, t.minor(), nil
	}
	return math.NaN(), 0, fmt.Errorf("the nearest coarse threads known here are %s",
		nearest(series, d, func(d float64) string { return fmt.Sprintf("M%v", d) }))
}

// unified is the thread of a diameter in mm. One written as a decimal may be
// rounded: 0.312 in for 5/16 in.
func unified(d float64) (diameter, minor float64, err error) {
	series := coarse(true)
	for _, t := range series {
		if math.Abs(t.diameter-d) <= nominal {
			return t.diameter, t.minor(), nil
		}
	}
	return math.NaN(), 0, fmt.Errorf("the nearest coarse threads (UNC) known here are %s", nearest(series, d, inchName))
}

// nearest names the two threads of a series that are next to a diameter in mm.
func nearest(series []thread, d float64, name func(float64) string) string {
	above := 1
	for above < len(series)-1 && series[above].diameter < d {
		above++
	}
	return name(series[above-1].diameter) + " and " + name(series[above].diameter)
}

// inchName is a diameter in mm as a whole number of inches and a fraction.
func inchName(d float64) string {
	sixteenths := int(math.Round(d / inchInMm * 16))
	whole, top, bottom := sixteenths/16, sixteenths%16, 16
	for top > 0 && top%2 == 0 {
		top, bottom = top/2, bottom/2
	}
	switch {
	case top == 0:
		return fmt.Sprintf("%d in", whole)
	case whole == 0:
		return fmt.Sprintf("%d/%d in", top, bottom)
	}
	return fmt.Sprintf("%d %d/%d in", whole, top, bottom)
}

// cutMetric takes the M off the front.
func cutMetric(text string) (string, bool) {
	if strings.HasPrefix(text, "M") || strings.HasPrefix(text, "m") {
		return text[1:], true
	}
	return text, false
}

// cutInch takes the unit off the end.
func cutInch(text string) (string, bool) {
	for _, unit := range [...]string{"inches", "inch", "in.", "in", `"`} {
		if rest, is := strings.CutSuffix(text, unit); is {
			return strings.TrimSpace(rest), true
		}
	}
	return text, false
}

// fraction reads 7/8, 1 1/8, 1-1/8 or 1.125.
func fraction(text string) (float64, bool) {
	over, under, is := strings.Cut(text, "/")
	if !is {
		return decimal(text)
	}
	whole := 0.0
	if at := strings.IndexAny(over, " -"); at >= 0 {
		var ok bool
		if whole, ok = decimal(over[:at]); !ok {
			return 0, false
		}
		over = over[at+1:]
	}
	top, okTop := decimal(strings.TrimSpace(over))
	bottom, okBottom := decimal(strings.TrimSpace(under))
	if !okTop || !okBottom || bottom == 0 {
		return 0, false
	}
	return whole + top/bottom, true
}

// decimal reads a number of digits and at most one point.
func decimal(text string) (float64, bool) {
	if strings.Trim(text, "0123456789.") != "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(text, 64)
	return v, err == nil
}
