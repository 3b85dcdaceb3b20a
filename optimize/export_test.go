package optimize

import (
	"context"

	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
	"leastmove/train"
)

// This file lets the tests of package optimize_test, which use the checks of package recheck,
// at what only tests need.

// PackSteps is packSteps.
func (k *Model) PackSteps(feet []int, m *train.Machine, least int) []int {
	k.Train.Machines = []train.Machine{*m}
	return k.packSteps(feet, 0, least)
}

// MovesOf is movesOf.
func (k *Model) MovesOf(value func(v int) float64) train.Moves { return k.movesOf(value) }

// Firm is firm.
func (m *Solver) Firm(ctx context.Context, r bnb.Result) bnb.Result { return m.firm(ctx, r) }

// MakePacks is packs.
func (p *Plan) MakePacks() { p.packs() }

// ForgetBeginning drops where the planning began, for plans to be compared.
func (p *Plan) ForgetBeginning() { p.begun = nil }

// Truly is curved with all limits, of the model with linear forms tangent to true geometry at moves; nil: where the
// train stands.
func (m *Solver) Truly(at train.Moves) (*Model, *mip.Problem) {
	k := m.ModelAt(nil)
	if at != nil {
		k = m.Tangent(at)
	}
	return k, k.curved(nil)
}

// Tangent is the model with linear forms that are tangent to true geometry at moves.
func (m *Solver) Tangent(at train.Moves) *Model { return m.ModelAt(linearizedAt(m.Plan.Train, at)) }
