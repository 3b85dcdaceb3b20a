package ways

import (
	"context"
	"slices"
	"sync"

	"leastmove/optimize"
	"leastmove/train"
)

// mostPools is how many pools are kept.
const mostPools = 8

// Pools keep pools for those who ask many questions of the same trains: one that was made
// answers every question that it would be made anew for. A train counts as the same by its
// place in memory. The zero value keeps none yet; nil never does.
type Pools struct {
	mu   sync.Mutex
	kept []*Pool // the one that was asked last is the last
}

// pool is a kept one, or one that is made.
func (k *Pools) pool(ctx context.Context, t *train.Train, opt optimize.Options, asked float64) (*Pool, error) {
	if k == nil {
		return MakePool(ctx, t, opt, asked)
	}
	if p := k.find(t, &opt, asked); p != nil {
		if opt.First != nil {
			opt.First(p.Base)
		}
		return p, nil
	}
	p, err := MakePool(ctx, t, opt, asked)
	if err != nil || p.Rows == nil || opt.Start != nil || ctx.Err() != nil {
		return p, err
	}
	if _, timed := ctx.Deadline(); timed {
		return p, nil
	}
	p.options.Tell = nil
	k.mu.Lock()
	defer k.mu.Unlock()
	if len(k.kept) == mostPools {
		k.kept = slices.Delete(k.kept, 0, 1)
	}
	k.kept = append(k.kept, p)
	return p, nil
}

// find is a kept pool that is what options ask for; nil: there is none.
func (k *Pools) find(t *train.Train, opt *optimize.Options, asked float64) *Pool {
	if opt.Start != nil {
		return nil
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	for n, p := range k.kept {
		if p.train == t && p.Asked == asked && p.madeWith(opt) {
			k.kept = append(slices.Delete(k.kept, n, n+1), p)
			return p
		}
	}
	return nil
}
