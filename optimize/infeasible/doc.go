// Package infeasible says why a train has no plan, and what would help.
//
// The conflict is a set of limits that cannot hold together and of which none could be left out
// (an irreducible infeasible subset), found by leaving out one after another, a deletion
// filter: Chinneck and Dravnieks, "Locating Minimal Infeasible Constraint Sets in Linear
// Programs", ORSA Journal on Computing 3 (1991), from memory. That a set is infeasible is
// a verified proof, without whole steps where that is enough.
//
// Relaxations are the least amounts by which limits would have to be relaxed, a linear
// program (feasibility relaxation):
//
//	minimize Σ cᵢ aᵢ  over moves x and amounts 0 ≤ aᵢ ≤ mᵢ,  with |Rⱼ x + dⱼ| ≤ rⱼ + Σ gᵢⱼ aᵢ
//
//	aᵢ  amount of a lever: mm at holes, bolts and packs, share of a coupling's limits
//	cᵢ  cost a unit, of train.Relief; mᵢ the largest amount
//	rⱼ  limit j, mm, mrad or a share; gᵢⱼ what a unit of amount i adds to it
//
// The amounts are rounded up to what a shop does, and shown to work by a plan of the edited
// train (relaxation.go). Signs are those of package train.
package infeasible
