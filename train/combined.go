package train

import "math"

// Flexible elements may share one capacity: with combined = "sum" the shares that a coupling's measures use of their
// limits add up to at most 1 in a condition. With a and b the two misalignments (up, left) as shares of their limits,
//
//	|a| + |b| = max over all turns R of |a + R b|,
//
// and with the distance between shaft ends g as a share of its own |x| + |g| = max over all directions e of |x + g e|.
// Some turns and directions thus give discs that hold wherever the sum does; the sum itself is checked.
//
// Each flexing element of a spacer coupling bears its own angle, and the whole of the distance between shaft ends: the
// larger of the two angles counts, as a share of its limit.

// Turns and directions of the discs: with so many the discs let through at most 0.2 % more than the sum does, and 3 %
// more with a distance between shaft ends: 1 / cos(π/2n), and less of it the more one share is larger than the other.
const (
	blendTurns      = 24
	blendTurnsGap   = 12 // where there is a distance between shaft ends too
	blendDirections = 8
)

// A Blend is one disc of a combined limit: two numbers, each the sum over the measures of the coupling, in the order of
// Measures, of By[n][row][0] × (up) + By[n][row][1] × (left), as shares of their limits. Their length is at most 1.
type Blend struct{ By [][2][2]float64 }

// Blends are the discs of the coupling's combined limit; nil: it has none.
func (c *Coupling) Blends() []Blend {
	switch {
	case !c.Limit.Combined:
		return nil
	case c.Spacer:
		return c.blendsSpacer()
	case c.Limit.EachPlane:
		return c.blendsEach()
	}
	turns := blendTurns
	if c.GapLimited() {
		turns = blendTurnsGap
	}
	var out []Blend
	for n := range turns {
		sin, cos := math.Sincos(2 * math.Pi * float64(n) / float64(turns))
		by := [][2][2]float64{{{1, 0}, {0, 1}}, {{cos, -sin}, {sin, cos}}}
		if !c.GapLimited() {
			out = append(out, Blend{by})
			continue
		}
		for d := range blendDirections {
			sin, cos := math.Sincos(2 * math.Pi * float64(d) / blendDirections)
			out = append(out, Blend{append(by[:2:2], [2][2]float64{{cos, 0}, {sin, 0}})})
		}
	}
	return out
}

// blendsSpacer are those of a spacer coupling: of each flexing element with the distance between shaft ends. Without a
// limit of that each angle is a limit alone.
func (c *Coupling) blendsSpacer() []Blend {
	if !c.GapLimited() {
		return nil
	}
	var out []Blend
	for plane := range 2 {
		add := func(flex, gap [2][2]float64) {
			by := make([][2][2]float64, 3)
			by[plane], by[2] = flex, gap
			out = append(out, Blend{by})
		}
		if c.Limit.EachPlane {
			for side := range 2 {
				for _, sign := range [2]float64{1, -1} {
					var flex [2][2]float64
					flex[0][side] = 1
					add(flex, [2][2]float64{{sign, 0}})
				}
			}
			continue
		}
		for n := range blendTurns {
			sin, cos := math.Sincos(2 * math.Pi * float64(n) / blendTurns)
			add([2][2]float64{{1, 0}, {0, 1}}, [2][2]float64{{cos, 0}, {sin, 0}})
		}
	}
	return out
}

// blendsEach are those of limits for vertical and horizontal each: the larger share of the two counts, so that the sum
// is the largest of what one plane of each measure comes to, with any signs.
func (c *Coupling) blendsEach() []Blend {
	signs := []float64{1}
	if c.GapLimited() {
		signs = []float64{1, -1}
	}
	var out []Blend
	for first := range 2 {
		for second := range 2 {
			for _, sign := range [2]float64{1, -1} {
				for _, gap := range signs {
					var a, b [2][2]float64
					a[0][first], b[0][second] = 1, sign
					blend := Blend{[][2][2]float64{a, b}}
					if c.GapLimited() {
						blend.By = append(blend.By, [2][2]float64{{gap, 0}})
					}
					out = append(out, blend)
				}
			}
		}
	}
	return out
}

// Loose is by what share, at most, the discs of Blends let through more than the sum: 1 / cos of half the angle between
// two turns that follow each other, over two, and the same of directions.
func (c *Coupling) Loose() float64 {
	half := func(n int) float64 { return 1 / math.Cos(math.Pi/(2*float64(n))) }
	switch gap := c.GapLimited(); {
	case !c.Limit.Combined, c.Limit.EachPlane, c.Spacer && !gap:
		return 0
	case c.Spacer, !gap:
		return half(blendTurns) - 1
	}
	return half(blendTurnsGap)*half(blendDirections) - 1
}

// Added are the shares that a reading uses of all limits, added up; of a spacer's two flexing elements the larger one
// counts.
func (r *Reading) Added() float64 {
	var sum, flex float64
	for _, u := range r.Uses {
		if u.Kind == Flex1 || u.Kind == Flex2 {
			flex = math.Max(flex, u.Share)
			continue
		}
		sum += u.Share
	}
	return sum + flex
}
