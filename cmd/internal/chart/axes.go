package chart

import (
	"math"
	"strconv"

	"gonum.org/v1/plot/vg"
)

// axisNumber is a figure of an axis with no more decimals than it needs, and at least so many.
func axisNumber(x float64, decimals int) string {
	for n := decimals; n < 6; n++ {
		if rounded := strconv.FormatFloat(x, 'f', n, 64); n == 5 || near(rounded, x) {
			return rounded
		}
	}
	return ""
}

func near(words string, x float64) bool {
	v, err := strconv.ParseFloat(words, 64)
	return err == nil && math.Abs(v-x) <= 1e-9*math.Max(1, math.Abs(x))
}

// An axis goes from one value to another over so many points.
type axis struct {
	from, to   float64
	start, end vg.Length
	apart      float64 // between its figures
}

// axisOver is one with round figures about so many points apart.
func axisOver(from, to float64, start, end vg.Length, points float64) axis {
	a := axis{from: from, to: to, start: start, end: end}
	if !(to > from) {
		a.to = from + 1
	}
	wanted := (a.to - a.from) * points / float64(end-start)
	for a.apart = handy(wanted); a.apart < wanted*0.999; {
		a.apart = handy(2.5 * a.apart)
	}
	return a
}

func (a axis) at(x float64) vg.Length {
	return a.start + (a.end-a.start)*vg.Length((x-a.from)/(a.to-a.from))
}

// figures are those of the axis, each with as many decimals as the finest needs.
func (a axis) figures() (values []float64, labels []string) {
	decimals := 0
	for n := math.Ceil(a.from/a.apart - 1e-9); n*a.apart <= a.to*(1+1e-9); n++ {
		values = append(values, n*a.apart+0) // no negative zero
		for !near(strconv.FormatFloat(n*a.apart, 'f', decimals, 64), n*a.apart) && decimals < 6 {
			decimals++
		}
	}
	for _, v := range values {
		labels = append(labels, strconv.FormatFloat(v, 'f', decimals, 64))
	}
	return values, labels
}
