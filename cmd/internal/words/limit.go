package words

import (
	"strings"

	"leastmove/train"
)

// LimitPhrases are the words for one kind of limit. A blank in braces takes what a page has of the limit:
//
//	{at}       whose it is: machine and foot, machine and nozzle, coupling and condition
//	{machine}  the machine alone
//	{feet}     the feet of the machine for which it is said
//	{where}    " at " and the feet; nothing where it is said of none
//	{value}    what moves come to, without its unit
//	{bound}    the limit, with its unit
//	{unit}     its unit
//	{share}    value of bound in per cent
//	{side}     "left" or "right"
//	{sides}    the bounds to the left and to the right, those that are stated
//	{by}       a change of the limit, or how far a value is past it
//	{twice}    twice as much
//	{stock}    what packs are made of
type LimitPhrases struct {
	Kind     train.LimitKind
	Demand   bool   // for a bound below 0, which demands a move: value and bound are its size
	Name     string // what it speaks of, in a word or two
	Stated   string // the limit with its number, behind whose it is
	AtEnd    string // the plan uses (almost) all of it
	Broken   string // moves pass it
	Comes    string // what moves come to where they pass it; "" where it is the move of the foot itself
	Conflict string // at feet, it is one of a set that can't hold together; before the limit as stated
	Alone    string // by how much more the others of such a set would hold
	More     string // a change that makes it wider
	Subject  string // it is past its limit: the subject of such a sentence
	Filled   string // behind the limit where shims that fill a gap under the foot count; "" where they do not
}

const (
	alone      = "alone {by} more"
	atFeet     = "{machine} at {feet}"
	packOf     = "{at}, its pack,"
	lessFilled = " (less what fills the gap under it)"
)

// limitPhrases has every kind once, and behind it a demand of that kind.
var limitPhrases = [...]LimitPhrases{
	ofCoupling(train.LimitOffset, "offset", "offset"),
	ofCoupling(train.LimitAngle, "angle", "angle"),
	ofCoupling(train.LimitFlex, "angle at a flex plane", "angle at a flex plane"),
	ofCoupling(train.LimitGap, "distance between shaft ends", "distance between shaft ends off what is wanted"),
	{
		Kind: train.LimitSum, Name: "limits added up",
		Stated: "shares of all limits add up to at most {bound}",
		AtEnd:  "{at}: the shares of all limits add up to {value} of {bound} ({share})",
		Broken: "{at}: shares of all limits add up to {value} of {bound}",
		Alone:  alone,
		More:   "{at}: {by} more in all",
	},
	{
		Kind: train.LimitWarm, Name: "worst share",
		Stated: "at most {bound}",
		AtEnd:  "{at}: {value} of {bound} ({share})",
		Broken: "{at}: {value} of {bound}",
		Alone:  alone,
		More:   "{at}: {by} more",
	},
	{
		Kind: train.LimitPitch, Name: "off level along",
		Stated:  "off level along the train by at most {bound}",
		AtEnd:   "{at}: as far off level along the train as it may be ({value} of {bound})",
		Broken:  "{machine} pitch, {by} too much",
		Alone:   alone,
		More:    "{at}: {by} more off level along the train",
		Subject: "{at}, its level along the train,",
	},
	{
		Kind: train.LimitRoll, Name: "off level across",
		Stated:  "off level across the train by at most {bound}",
		AtEnd:   "{at}: as far off level across the train as it may be ({value} of {bound})",
		Broken:  "{machine} roll, {by} too much",
		Alone:   alone,
		More:    "{at}: {by} more off level across the train",
		Subject: "{at}, its level across the train,",
	},
	{
		Kind: train.LimitNozzle, Name: "displaced",
		Stated:  "displaced by at most {bound}",
		AtEnd:   "{at}: displaced as far as it may be ({value} of {bound})",
		Broken:  "{at} displaced by {by} too much",
		Alone:   alone,
		More:    "{at}: {by} more displacement",
		Subject: "{at}",
	},
	{
		Kind: train.LimitShift, Name: "shifted along",
		Stated:  "shifted along the train by at most {bound}",
		AtEnd:   "{at}: shifted along the train as far as it may be ({value} of {bound})",
		Broken:  "{machine} shifted along the train by {by} too much",
		Alone:   alone,
		More:    "{at}: {by} more shift along the train",
		Subject: "{at}, its shift along the train,",
	},
	{
		Kind: train.LimitFlat, Name: "soft foot",
		Stated:   "soft foot at most {bound}",
		AtEnd:    "{at}: as much soft foot as the shim packs may leave ({value} of {bound})",
		Broken:   "{machine} flat{where}, {by} too much",
		Comes:    "{at}: the packs leave {value} {unit} of soft foot",
		Conflict: atFeet, Alone: alone,
		More:    "{at}: {by} more soft foot",
		Subject: "{at}, its soft foot,",
	},
	{
		Kind: train.LimitLower, Name: "shims out",
		Stated:   "at most {bound} of shims may come out",
		AtEnd:    "{at} is base-bound: {value} of the {bound} of shims that may come out",
		Broken:   "{machine} base-bound{where}, {by} short",
		Conflict: "{machine} is base-bound at {feet}", Alone: alone,
		More:    "{at}: {by} more of shims to take out",
		Subject: packOf,
	},
	{
		Kind: train.LimitLower, Demand: true, Name: "shims out",
		Stated:   "at least {bound} of shims must go in",
		AtEnd:    "{at}: raised by no more than the shim pack needs ({value} {unit})",
		Broken:   "{machine} base-bound{where}, {by} short",
		Conflict: "{machine} must go up at {feet}", Alone: alone,
		More:    "{at}: {by} more of shims to take out",
		Subject: packOf,
	},
	{
		Kind: train.LimitRaise, Name: "shims in",
		Stated:   "at most {bound} of shims may go in",
		AtEnd:    "{at}: no more may be added ({value} of {bound})",
		Broken:   "{machine} raised{where} by {by} too much",
		Conflict: "{machine} can't go up further at {feet}", Alone: alone,
		More:    "{at}: {by} more that may go in",
		Subject: packOf, Filled: lessFilled,
	},
	{
		Kind: train.LimitBolt, Name: "bolt in its hole",
		Stated:   "the bolt leaves at most {bound} each way from the hole's centre",
		AtEnd:    "{at} is bolt-bound to the {side} ({value} of {bound})",
		Broken:   "{machine} bolt-bound{where}, {by} short",
		Conflict: "{machine} is bolt-bound at {feet}",
		Alone:    "alone {by} more each way (holes wider by {twice})",
		More:     "{at}: a hole wider by {by}",
		Subject:  "{at}, the bolt in its hole,",
	},
	{
		Kind: train.LimitTravel, Name: "travel",
		Stated:   "travel {sides}",
		AtEnd:    "{at} is at the end of its travel to the {side} ({value} of {bound})",
		Broken:   "{machine} past its travel{where}, {by}",
		Conflict: "{machine} can't go further sideways at {feet}", Alone: alone,
		More:    "{at}: {by} more travel",
		Subject: "{at}, its side travel,",
	},
	{
		Kind: train.LimitHold, Name: "hold", Stated: "hold",
		Broken: "{machine} is held and would move",
	},
	{
		Kind: train.LimitSteps, Name: "steps",
		Stated:   "shims change in whole steps of {bound}, and other moves are set as finely as a dial shows",
		Conflict: atFeet,
	},
	{
		Kind: train.LimitStock, Name: "stock",
		Stated:   "shim packs are made from {stock}: not every thickness that is needed can be made",
		Conflict: atFeet,
	},
	{
		Kind: train.LimitLeast, Name: "least",
		Stated:   "what is moved at a foot moves by at least {bound} (least_move, else twice placing), or not at all",
		Conflict: atFeet,
	},
}

// ofCoupling are the phrases of a limit on what a coupling measures.
func ofCoupling(kind train.LimitKind, name, stated string) LimitPhrases {
	return LimitPhrases{
		Kind: kind, Name: name,
		Stated: stated + " at most {bound}",
		AtEnd:  "{at}: " + name + " uses {value} of {bound} ({share})",
		Broken: "{at}: " + name + " {value} of {bound}",
		Alone:  alone,
		More:   "{at}: {by} more for " + name,
	}
}

// PhrasesOf are those of a kind with a bound in mm or mrad.
func PhrasesOf(kind train.LimitKind, bound float64) *LimitPhrases {
	var found *LimitPhrases
	for i := range limitPhrases {
		if p := &limitPhrases[i]; p.Kind == kind && (!p.Demand || bound < 0) {
			found = p // a demand stands behind what has no sign
		}
	}
	if found == nil {
		panic("words: no phrases for limits of kind " + string(kind))
	}
	return found
}

// LimitName is what a kind of limit speaks of, in a word or two.
func LimitName(kind train.LimitKind) string { return PhrasesOf(kind, 0).Name }

// Fill puts words into the blanks of a phrase, given as "{at}", its words, and so on.
func Fill(phrase string, blanks ...string) string {
	return strings.NewReplacer(blanks...).Replace(phrase)
}

// Limit is a value of a kind of limit in mm or mrad, in the units of the train file.
func (n Numbers) Limit(kind train.LimitKind, v float64) Number {
	switch kind.Info().Unit {
	case train.UnitAngle:
		return n.Angle(v)
	case train.UnitLength:
		return n.Length(v)
	case train.UnitShim:
		v /= n.Units.Move()
		return Fixed(v, train.Decimals(v, n.MoveDecimals, max(n.MoveDecimals, n.FineDecimals)))
	case train.UnitShare, train.UnitUse:
		return Fixed(v, 3)
	case train.UnitNone:
		return n.Moved(v)
	}
	return n.Offset(v)
}

// LimitUp is the same rounded up.
func (n Numbers) LimitUp(kind train.LimitKind, v float64) Number {
	switch kind.Info().Unit {
	case train.UnitAngle, train.UnitShare, train.UnitUse:
		return Ceil(v, 3)
	case train.UnitLength:
		if n.Units == train.Inches {
			return Ceil(v/n.Units.Length(), 4)
		}
		return Ceil(v, 3)
	}
	return Ceil(v/n.Units.Move(), n.FineDecimals)
}

// LimitUnit is the unit of both.
func (n Numbers) LimitUnit(kind train.LimitKind) string {
	switch kind.Info().Unit {
	case train.UnitAngle:
		return "mrad"
	case train.UnitShare:
		return "in all"
	case train.UnitUse:
		return "of its limits"
	case train.UnitLength:
		return n.LengthUnit()
	}
	return n.MoveUnit()
}

// LimitPrice is what a limit costs, mm of movement per mm or mrad of it, in the units of the train file.
func (n Numbers) LimitPrice(kind train.LimitKind, v float64) Number {
	switch kind.Info().Unit {
	case train.UnitAngle:
		v /= n.Units.Move()
	case train.UnitLength:
		v *= n.Units.Length() / n.Units.Move()
	}
	return Fixed(v, 3)
}
