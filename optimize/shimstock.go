package optimize

import (
	"cmp"
	"math"
	"slices"

	"leastmove/bolts"
	"leastmove/train"
)

// StockStated says that the file states what packs of machine i are made of. Where it states
// neither the thicknesses nor the number of pieces every whole step counts as
// one that a pack can be made for.
func StockStated(t *train.Train, i int) bool {
	s := t.ShimsOf(i)
	return len(s.Stock) > 0 || s.MaxPieces > 0
}

// ShimStock is what packs of machine i are made of; what the file does not state of it is the
// usual.
func ShimStock(t *train.Train, i int) *bolts.ShimStock {
	s := t.ShimsOf(i)
	stock, most := s.Stock, s.MaxPieces
	if len(stock) == 0 {
		stock = bolts.UsualStock(t.Units == train.Inches)
	}
	if most == 0 {
		most = bolts.UsualPieces
	}
	return bolts.NewShimStock(stock, most)
}

// pieces are what is known to lie under a foot whose pack is height mm now, from the
// base up; false where not even its height is known. A pack without pieces is one piece.
func pieces(f *train.Foot, height float64) ([]float64, bool) {
	switch {
	case f.Pieces != nil:
		return f.Pieces, true
	case math.IsNaN(height):
		return nil, false
	case height < NoPack:
		return nil, true
	default:
		return []float64{height}, true
	}
}

// NoPack is the height in mm below which there is no pack.
const NoPack = 1e-6

// ShimStocks are those of every machine; machines of the same rules share one.
func ShimStocks(t *train.Train) []*bolts.ShimStock {
	out := make([]*bolts.ShimStock, len(t.Machines))
next:
	for i := range out {
		s := t.ShimsOf(i)
		for k := range i {
			if o := t.ShimsOf(k); slices.Equal(s.Stock, o.Stock) && s.MaxPieces == o.MaxPieces {
				out[i] = out[k]
				continue next
			}
		}
		out[i] = ShimStock(t, i)
	}
	return out
}

// Makes says whether the pack of a foot of machine i of a train with soft feet corrected can be made for a
// change of up mm, with what fills a soft foot and makes up for what was cut
// off. A foot that is not moved passes, and so does one of which nothing is
// known that is to come down: it has no limit.
func Makes(t *train.Train, s *bolts.ShimStock, i, f int, up float64) bool {
	c := t.PackChange(i, f, up)
	by := c.By()
	now, known := pieces(&t.Machines[i].Feet[f], c.Now)
	ok := up == 0
	switch {
	case ok:
	case known:
		_, ok = s.Change(now, by)
	default:
		_, ok = s.Adds(by)
		ok = ok || by <= 0
	}
	return ok
}

// packSteps are the steps, ascending, at which the packs of all of some feet of machine i can
// be made, as Makes has it; nil where any can.
func (k *Model) packSteps(feet []int, i, least int) []int {
	t, m := k.Train, &k.Train.Machines[i]
	if !StockStated(t, i) {
		return nil
	}
	if k.stocks == nil {
		k.stocks = ShimStocks(t)
	}
	var all []int
	for n, f := range feet {
		if n > 0 && packedAlike(&m.Feet[f], &m.Feet[feet[n-1]]) {
			continue
		}
		steps := footSteps(t, k.stocks[i], i, f)
		if n == 0 {
			all = steps
			continue
		}
		all = slices.DeleteFunc(all, func(n int) bool {
			_, found := slices.BinarySearch(steps, n)
			return !found
		})
	}
	return slices.DeleteFunc(all, func(n int) bool { return n != 0 && n < least && -n < least })
}

func packedAlike(a, b *train.Foot) bool {
	return a.Pack == b.Pack && a.Filled == b.Filled && a.Cut == b.Cut && slices.Equal(a.Pieces, b.Pieces)
}

// footSteps are the steps at which the pack of one foot of machine i can be made.
func footSteps(t *train.Train, s *bolts.ShimStock, i, f int) []int {
	c, step := t.PackChange(i, f, 0), t.ShimsOf(i).Step
	if now, known := pieces(&t.Machines[i].Feet[f], c.Now); known {
		return s.Steps(now, c.By(), step)
	}
	// Something comes out, which has no limit, or something goes in.
	var out []int
	last := int(math.Floor(-c.By()/step + 1e-9))
	for n := -int(Reach / step); n <= last; n++ {
		out = append(out, n)
	}
	out = append(out, s.AddSteps(c.By(), step)...)
	slices.Sort(out)
	return slices.Compact(out)
}

// unmade is a foot whose pack can't be made for its move, where the file says
// what packs are made of; "" where there is none.
func (p *Plan) unmade() string {
	t := p.Train
	var stocks []*bolts.ShimStock
	for i := range t.Machines {
		if !StockStated(t, i) {
			continue
		}
		if stocks == nil {
			stocks = ShimStocks(t)
		}
		for n := range t.Machines[i].Feet {
			if !Makes(t, stocks[i], i, n, p.Moves[i][n].Up) {
				return t.Machines[i].Name + " " + t.Machines[i].Feet[n].Name
			}
		}
	}
	return ""
}

// packs works out what goes out of and into the pack of every foot whose pack
// changes, by its move, by what fills it where it was soft, or by what makes up
// for what was cut off. Where the shim stock can't make the pack, or nothing is known
// of one that comes down, there is nothing to say of it.
func (p *Plan) packs() {
	p.Packs, p.Shims = nil, nil
	if p.Moves == nil {
		return
	}
	t := p.Train
	stocks, count := ShimStocks(t), map[float64]int{}
	for i := range t.Machines {
		if t.ShimsOf(i).Stepless {
			continue
		}
		stock := stocks[i]
		for n := range t.Machines[i].Feet {
			f := &t.Machines[i].Feet[n]
			c := t.PackChange(i, n, p.Moves[i][n].Up)
			by := c.By()
			if math.Abs(by) < NoPack {
				continue
			}
			now, known := pieces(f, c.Now)
			if f.Pieces == nil && by < 0 && !StockStated(t, i) {
				continue // what comes out is for whoever sees the pack to say
			}
			made := stock.Adds
			if known {
				made = func(by float64) (bolts.Change, bool) { return stock.Change(now, by) }
			}
			change, ok := made(by)
			if !ok {
				continue
			}
			p.Packs = append(p.Packs, Pack{Machine: i, Foot: n, Now: f.Pieces, Then: change.Then, Out: change.Out,
				In: change.In})
			for _, piece := range change.In {
				count[piece]++
			}
		}
	}
	for thickness, n := range count {
		p.Shims = append(p.Shims, Shim{thickness, n})
	}
	slices.SortFunc(p.Shims, func(a, b Shim) int { return cmp.Compare(a.Thickness, b.Thickness) })
}
