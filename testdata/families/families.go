// Package families draws train files from a seed: many kinds of trains, every
// number invented, for tests that compare a plan with what outside solvers
// find. The same family and seed give the same text on every machine.
//
// A train is drawn so that a plan is likely to exist: every machine is first
// thought to stand true and is then displaced by a little at each of its foot
// stations, up to the recipe's Error; the found misalignments are what that
// makes of the couplings. Growth, holes, packs and limits then decide whether
// the way back is open. Some trains have no plan; in the family "tight" about
// half of them have none, in the family "bound" most.
//
// It lives under testdata and is imported by tests as
// leastmove/testdata/families.
package families

import (
	"fmt"
	"hash/fnv"
	"math/rand/v2"
)

// A recipe says what a family's trains are like. Lengths, moves and growth in
// mm, angles in mrad.
type recipe struct {
	name        string
	least, most int     // machines in a train
	stations    int     // foot stations of a machine
	spacers     float64 // chance that a coupling is a spacer
	conditions  int     // most conditions, "running" among them
	held        int     // most machines held
	grow        float64 // mm, most growth
	spread      float64 // mm, most that growth differs between machines, of it
	fault       float64 // mm, most that a foot station stands off true
	limit       float64 // factor on the usual coupling limits
	fine        bool    // holes of the fine series and little under the feet
	inch        bool    // written in inches and mils
	dress       func(*draw)
}

// recipes is the table of families, in the order of Names.
func recipes() []recipe {
	usual := recipe{least: 3, most: 5, stations: 2, conditions: 2, grow: 0.6, spread: 0.25, fault: 0.6, limit: 1}
	with := func(name string, change func(*recipe)) recipe {
		r := usual
		r.name = name
		change(&r)
		return r
	}
	spacer := func(r *recipe) { r.spacers, r.conditions = 1, 3 }
	return []recipe{
		with("plain", func(r *recipe) { r.dress = (*draw).wanted }),
		with("spacer", spacer),
		with("long", func(r *recipe) { r.least, r.most, r.spacers, r.fault = 6, 8, 0.5, 0.45 }),
		with("twelve", func(r *recipe) { r.least, r.most, r.spacers, r.fault = 9, 12, 0.5, 0.4 }),
		with("held", func(r *recipe) { r.held, r.spacers = 2, 0.5 }),
		with("gear", func(r *recipe) { r.spacers, r.dress = 0.5, (*draw).gear }),
		with("three", func(r *recipe) { r.stations, r.spacers, r.fault = 3, 0.5, 0.5 }),
		with("tight", func(r *recipe) { r.fine, r.fault, r.limit, r.spread, r.spacers = true, 0.9, 0.7, 0.25, 0.3 }),
		with("nozzle", func(r *recipe) { r.spacers, r.dress = 0.5, (*draw).pipes }),
		with("gap", func(r *recipe) { r.spacers, r.dress = 0.5, (*draw).gaps }),
		with("inch", func(r *recipe) { spacer(r); r.inch = true }),
		with("each", func(r *recipe) { r.spacers, r.dress = 0.5, (*draw).eachPlane }),
		with("degenerate", func(r *recipe) { r.dress = (*draw).equal }),
		with("mirrored", func(r *recipe) { r.least, r.spacers, r.fault, r.dress = 4, 0.5, 0.45, (*draw).everything }),
		with("effort", func(r *recipe) { r.spacers, r.dress = 0.5, (*draw).efforts }),
		with("two", func(r *recipe) { r.least, r.most, r.held, r.spacers = 2, 2, 1, 0.5 }),
		with("bound", func(r *recipe) {
			r.most, r.conditions, r.spacers, r.fault, r.dress = 6, 1, 0.5, 1, (*draw).bound
		}),
	}
}

// rules is the table of families of limits that came later; drawing them leaves the others as they are.
func rules() []recipe {
	usual := recipe{least: 3, most: 5, stations: 2, conditions: 2, grow: 0.6, spread: 0.25, fault: 0.6, limit: 1,
		spacers: 0.5}
	with := func(name string, change func(*recipe)) recipe {
		r := usual
		r.name = name
		change(&r)
		return r
	}
	return []recipe{
		with("together", func(r *recipe) { r.limit, r.dress = 1.4, (*draw).together }),
		with("slides", func(r *recipe) { r.dress = (*draw).slides }),
		with("flats", func(r *recipe) { r.least, r.most, r.stations, r.fault, r.dress = 2, 4, 3, 0.4, (*draw).flats }),
		with("warm", func(r *recipe) {
			r.conditions, r.grow, r.spread, r.limit, r.spacers, r.dress = 3, 0.1, 0.06, 1.6, 0.7, (*draw).warm
		}),
	}
}

// onBases is the family of trains with a base.
func onBases() recipe {
	return recipe{name: "base", least: 2, most: 4, stations: 2, spacers: 0.4, conditions: 2, grow: 0.4, spread: 0.2,
		fault: 0.4, limit: 1.3, dress: (*draw).onBase}
}

// RuleNames lists the families of those limits:
//
//	together    shares of a coupling's limits added up, with gaps and in each plane here and there
//	slides      close holes in which feet slide as machines grow, growth by rise and of a condition's own
//	flats       soft foot and shim steps of each machine, three foot stations, chocks here and there
//	warm        warm-up in between limited
func RuleNames() []string {
	var names []string
	for _, r := range rules() {
		names = append(names, r.name)
	}
	return names
}

// Names lists the families:
//
//	plain       3 to 5 machines, one engagement plane, one or two conditions
//	spacer      spacer couplings, three conditions
//	long        6 to 8 machines
//	twelve      9 to 12 machines
//	held        one or two machines may not be moved
//	gear        a gear case with two shafts, roll, journal shift, level limits
//	three       three foot stations to a machine
//	tight       little under the feet, close holes: about half have no plan
//	nozzle      pipes, travel limits, a single foot at one end here and there
//	gap         distance between shaft ends, machines that may be shifted along
//	inch        as spacer, in inches and mils
//	each        vertical and horizontal limited each by itself
//	degenerate  equal numbers, zeros, symmetry
//	mirrored    four seeds in a row are one train: as drawn, seen in a mirror,
//	            turned end for end, both; their plans have the same total
//	effort      machines that are harder to move than others
//	two         two machines, one held
//	bound       feet that are base-bound or bolt-bound: most have no plan
func Names() []string {
	var names []string
	for _, r := range recipes() {
		names = append(names, r.name)
	}
	return names
}

// TOML writes the train file of a family and a seed: one of Names or RuleNames, or "base": 2 to 4 machines, some of
// them on a base with feet of its own, that rolls, may be shifted along or is held here and there.
func TOML(family string, seed uint64) string {
	for _, r := range append(append(recipes(), rules()...), onBases()) {
		if r.name != family {
			continue
		}
		base := seed
		if family == "mirrored" {
			base -= seed % 4
		}
		h := fnv.New64a()
		h.Write([]byte(family))
		d := &draw{recipe: r, rnd: rand.New(rand.NewPCG(base, h.Sum64()))}
		t := d.train()
		t.title = fmt.Sprintf("%s train %d (invented)", family, seed)
		if family == "mirrored" {
			if seed%4 >= 2 {
				t.turn()
			}
			if seed%2 == 1 {
				t.mirror()
			}
		}
		return t.text()
	}
	panic("families: no family " + family)
}
