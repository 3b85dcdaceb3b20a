package bolts

import (
	"math"
	"slices"
)

// A ShimStock is what packs are made up from: shims of some thicknesses, as many of
// each as it takes, and how many of them may lie in one pack. Heights are
// compared in whole millionths of a mm, so that 0.1 and 0.2 are 0.3.
type ShimStock struct {
	most int
	made map[int]made // of each height that stock alone makes, in fine
}

// A made height is the least number of pieces of stock that come to it and,
// over all ways to do it in so few, the thickest that the thinnest one can be.
type made struct {
	pieces, thinnest int
}

// UsualPieces is the most pieces in a pack where nothing else is said. API RP
// 686 has five, from memory.
const UsualPieces = 5

// UsualStock are the thicknesses in mm that shims are sold in, metric or by the
// mil: common practice, no source.
func UsualStock(inch bool) []float64 {
	if !inch {
		return []float64{0.05, 0.1, 0.2, 0.25, 0.5, 0.7, 1, 2, 3}
	}
	stock := []float64{1, 2, 3, 4, 5, 10, 15, 20, 25, 50, 75, 100, 125}
	for i := range stock {
		stock[i] *= 0.0254
	}
	return stock
}

// NewShimStock is a stock of thicknesses in mm, more than 0, and the
// most pieces that a pack made up from it may have.
func NewShimStock(stock []float64, most int) *ShimStock {
	s := &ShimStock{most: most, made: map[int]made{0: {}}}
	sizes := units(stock)
	for n, level := 1, []int{0}; n <= most; n++ {
		var next []int
		for _, h := range level {
			below := s.made[h]
			for _, size := range sizes {
				m := made{n, size}
				if h > 0 {
					m.thinnest = min(size, below.thinnest)
				}
				was, known := s.made[h+size]
				if !known {
					next = append(next, h+size)
				}
				if !known || was.pieces == n && m.thinnest > was.thinnest {
					s.made[h+size] = m
				}
			}
		}
		level = next
	}
	return s
}

// fine is how many units heights are counted in make a mm.
const fine = 1e6

func unit(mm float64) int { return int(math.Round(mm * fine)) }

func units(mm []float64) []int {
	out := make([]int, len(mm))
	for i, v := range mm {
		out[i] = unit(v)
	}
	return out
}

func inMillimetres(units []int) []float64 {
	out := make([]float64, len(units))
	for i, u := range units {
		out[i] = float64(u) / fine
	}
	return out
}

// A Change is what is done to a pack. Thicknesses in mm.
type Change struct {
	Then    []float64 // the pieces of the pack afterwards, from the base up
	Out, In []float64 // the pieces that come out and those that go in, thickest first
}

// Change is how a pack, its pieces given in mm, is made higher by mm: with the
// fewest pieces handled, out and in counted together; of all such ways
// the one that leaves the fewest pieces; and of these the one with the fewest
// of the thinnest, which crease first, then of the next thickness. It is false
// where the stock can't make that height. A pack that is to be no higher stays as
// it is, however many pieces it has.
//
// A pack whose pieces nobody knows is one piece as high as the pack: more goes
// in under it or on top, and to come down it goes out whole and a new pack is
// made up.
//
// Pieces stay or go as they are; what comes out of a pack does not go back on
// the shims. Where a pack is changed its two thickest pieces lie outermost, the
// thickest at the base, and the thinnest in the middle: common practice, no
// source.
func (s *ShimStock) Change(now []float64, by float64) (Change, bool) {
	pieces := units(now)
	height := sum(pieces) + unit(by)
	if unit(by) == 0 {
		return Change{Then: slices.Clone(now)}, true
	}
	best, least, found := []int(nil), [2]int{}, false
	for k, kept := range s.keeps(pieces) {
		m, ok := s.made[height-k.height]
		if !ok || k.pieces+m.pieces > s.most {
			continue
		}
		effort := [2]int{len(pieces) - k.pieces + m.pieces, k.pieces + m.pieces}
		order := slices.Compare(effort[:], least[:])
		if found && order > 0 {
			continue
		}
		pack := append(s.stock(height-k.height), kept...)
		slices.Sort(pack)
		if !found || order < 0 || slices.Compare(pack, best) > 0 {
			best, least, found = pack, effort, true
		}
	}
	if !found {
		return Change{}, false
	}
	return Change{
		Then: inMillimetres(stacked(best)),
		Out:  inMillimetres(without(pieces, best)), In: inMillimetres(without(best, pieces)),
	}, true
}

// Adds is how a pack of which not even the height is known is made higher by
// mm, as Change does for one whose pieces nobody knows. Then is left open. It is
// false too where something is to come out.
func (s *ShimStock) Adds(by float64) (Change, bool) {
	h := unit(by)
	m, ok := s.made[h]
	if !ok || m.pieces > 0 && 1+m.pieces > s.most {
		return Change{}, false
	}
	return Change{In: inMillimetres(without(s.stock(h), nil))}, true
}

// heights are all heights, ascending, that a pack can be made to have, its own among them.
func (s *ShimStock) heights(now []int) []int {
	reached := map[int]bool{sum(now): true}
	for k := range s.keeps(now) {
		for h, m := range s.made {
			if k.pieces+m.pieces <= s.most {
				reached[k.height+h] = true
			}
		}
	}
	out := make([]int, 0, len(reached))
	for h := range reached {
		out = append(out, h)
	}
	slices.Sort(out)
	return out
}

// Steps are the whole numbers n, ascending, for which Change makes a pack higher
// by start + n step, all in mm. 0 is always among them.
func (s *ShimStock) Steps(now []float64, start, step float64) []int {
	pieces := units(now)
	return steps(s.heights(pieces), sum(pieces), start, step)
}

// AddSteps are those of a pack of which not even the height is known, as far as
// something goes in, and 0.
func (s *ShimStock) AddSteps(start, step float64) []int {
	var heights []int
	for h, m := range s.made {
		if h > 0 && 1+m.pieces <= s.most {
			heights = append(heights, h)
		}
	}
	slices.Sort(heights)
	return steps(heights, 0, start, step)
}

// steps are the ascending heights that are start and whole steps above one, and
// 0.
func steps(heights []int, now int, start, step float64) []int {
	var out []int
	zero := false
	for _, h := range heights {
		n := int(math.Round((float64(h-now)/fine - start) / step))
		if unit(start+float64(n)*step) != h-now {
			continue
		}
		if n >= 0 && !zero {
			zero = true
			if n > 0 {
				out = append(out, 0)
			}
		}
		out = append(out, n)
	}
	if !zero {
		out = append(out, 0)
	}
	return out
}

// A part is what some pieces come to.
type part struct {
	height, pieces int
}

// keeps are the parts of a pack that may stay, each as its best pieces,
// ascending: the fewest of the thinnest. Their number grows with the different
// heights that its pieces come to, not with the ways to choose them.
func (s *ShimStock) keeps(now []int) map[part][]int {
	now = slices.Sorted(slices.Values(now))
	all := map[part][]int{{}: nil}
	for _, piece := range now {
		with := map[part][]int{}
		for p, kept := range all {
			if p.pieces < s.most {
				with[part{p.height + piece, p.pieces + 1}] = append(slices.Clone(kept), piece)
			}
		}
		for p, kept := range with {
			if was, ok := all[p]; !ok || slices.Compare(kept, was) > 0 {
				all[p] = kept
			}
		}
	}
	return all
}

// stock are the pieces that make a height, thinnest first: each time the
// thickest piece that can be the thinnest. What is left without it is made
// best without it, so the whole has the fewest of the thinnest.
func (s *ShimStock) stock(height int) []int {
	var out []int
	for height > 0 {
		piece := s.made[height].thinnest
		out = append(out, piece)
		height -= piece
	}
	return out
}

// stacked puts pieces, ascending, in their order from the base up: thickest at
// the base, next on top, and so on inwards.
func stacked(pieces []int) []int {
	out := make([]int, len(pieces))
	low, high := 0, len(pieces)-1
	for i := len(pieces) - 1; i >= 0; i-- {
		if (len(pieces)-1-i)%2 == 0 {
			out[low] = pieces[i]
			low++
		} else {
			out[high] = pieces[i]
			high--
		}
	}
	return out
}

// without are the pieces that b does not have, thickest first.
func without(a, b []int) []int {
	left := map[int]int{}
	for _, p := range b {
		left[p]++
	}
	var out []int
	for _, p := range a {
		if left[p]--; left[p] < 0 {
			out = append(out, p)
		}
	}
	slices.Sort(out)
	slices.Reverse(out)
	return out
}

func sum(pieces []int) int {
	var n int
	for _, p := range pieces {
		n += p
	}
	return n
}
