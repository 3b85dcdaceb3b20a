package pages

import "leastmove/cmd/internal/doc"

// cautionsPart is what nothing that asks for moves should be without.
func cautionsPart() []doc.Block {
	list := &doc.List{}
	for _, words := range cautions() {
		list.Items = append(list.Items, []string{words})
	}
	return part("cautions", "Cautions", "", []doc.Block{list})
}

// toCautions leads to them.
func toCautions() []doc.Block {
	return []doc.Block{doc.See{Before: "Before any work:", Anchor: "cautions", Words: "the cautions"}}
}

// cautions are those that stand on every page.
func cautions() []string {
	return []string{
		"Lock out and tag out every source of energy of every machine of the train before a guard comes off: drivers, " +
			"turning gear, steam, gas and process pressure, springs and raised loads. Try that it is so.",
		"Let hot parts cool and pressure go. What is in the pipes may be hot, poisonous or under pressure long after " +
			"the train has stopped.",
		"Before shafts are turned: lube or jacking oil on as the maker says, everybody clear and counted, one gives the " +
			"word; no dial at a foot, no bar or spanner in the way; brackets tight. Turning gear stays locked out unless " +
			"site rules say otherwise.",
		"Lift with jacks and slings that are made for the weight, at the places that the maker names, and no further " +
			"than the shims need. Keep hands out from under feet.",
		"Tighten bolts to the torque and in the order that the maker states. Watch a dial at the coupling as each " +
			"is tightened.",
		"Watch pipes, guards and cables as a machine moves: what holds it may strain.",
		"Read every coupling again after the moves, before the train is let go.",
		"The rules of the site, the manuals of the makers and whoever is licensed for the work come before this page.",
	}
}
