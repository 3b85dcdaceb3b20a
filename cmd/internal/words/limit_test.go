package words

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"leastmove/train"
)

// Every kind's phrases once, by hand, and those of the one demand.
func TestPhrasesOfLimits(t *testing.T) {
	blanks := []string{
		"{at}", "AT", "{machine}", "gear", "{feet}", "in, out", "{where}", " at in, out", "{value}", "1.0",
		"{bound}", "2.0 mm",
		"{unit}", "mm", "{share}", "50 %", "{side}", "left", "{sides}", "left at most 2.0 mm", "{by}", "0.3 mm",
		"{twice}", "0.6 mm",
		"{stock}", "the stock",
	}
	const less = " (less what fills the gap under it)"
	// name, stated, at its end, broken, what moves come to, conflict, alone, more, subject, filled
	for _, c := range []struct {
		kind  train.LimitKind
		bound float64
		want  [10]string
	}{
		{"offset", 2, [10]string{"offset", "offset at most 2.0 mm", "AT: offset uses 1.0 of 2.0 mm (50 %)",
			"AT: offset 1.0 of 2.0 mm", "", "", "alone 0.3 mm more", "AT: 0.3 mm more for offset", "", ""}},
		{"angle", 2, [10]string{"angle", "angle at most 2.0 mm", "AT: angle uses 1.0 of 2.0 mm (50 %)",
			"AT: angle 1.0 of 2.0 mm", "", "", "alone 0.3 mm more", "AT: 0.3 mm more for angle", "", ""}},
		{"flex", 2, [10]string{"angle at a flex plane", "angle at a flex plane at most 2.0 mm",
			"AT: angle at a flex plane uses 1.0 of 2.0 mm (50 %)", "AT: angle at a flex plane 1.0 of 2.0 mm", "", "",
			"alone 0.3 mm more", "AT: 0.3 mm more for angle at a flex plane", "", ""}},
		{"gap", 2, [10]string{"distance between shaft ends", "distance between shaft ends off what is wanted at most 2.0 mm",
			"AT: distance between shaft ends uses 1.0 of 2.0 mm (50 %)",
			"AT: distance between shaft ends 1.0 of 2.0 mm", "", "",
			"alone 0.3 mm more", "AT: 0.3 mm more for distance between shaft ends", "", ""}},
		{"sum", 2, [10]string{"limits added up", "shares of all limits add up to at most 2.0 mm",
			"AT: the shares of all limits add up to 1.0 of 2.0 mm (50 %)",
			"AT: shares of all limits add up to 1.0 of 2.0 mm", "", "",
			"alone 0.3 mm more", "AT: 0.3 mm more in all", "", ""}},
		{"transient", 2, [10]string{"worst share", "at most 2.0 mm", "AT: 1.0 of 2.0 mm (50 %)", "AT: 1.0 of 2.0 mm", "", "",
			"alone 0.3 mm more", "AT: 0.3 mm more", "", ""}},
		{"pitch", 2, [10]string{"off level along", "off level along the train by at most 2.0 mm",
			"AT: as far off level along the train as it may be (1.0 of 2.0 mm)", "gear pitch, 0.3 mm too much", "", "",
			"alone 0.3 mm more", "AT: 0.3 mm more off level along the train", "AT, its level along the train,", ""}},
		{"roll", 2, [10]string{"off level across", "off level across the train by at most 2.0 mm",
			"AT: as far off level across the train as it may be (1.0 of 2.0 mm)", "gear roll, 0.3 mm too much", "", "",
			"alone 0.3 mm more", "AT: 0.3 mm more off level across the train", "AT, its level across the train,", ""}},
		{"nozzle", 2, [10]string{"displaced", "displaced by at most 2.0 mm",
			"AT: displaced as far as it may be (1.0 of 2.0 mm)",
			"AT displaced by 0.3 mm too much", "", "", "alone 0.3 mm more", "AT: 0.3 mm more displacement", "AT", ""}},
		{"shift", 2, [10]string{"shifted along", "shifted along the train by at most 2.0 mm",
			"AT: shifted along the train as far as it may be (1.0 of 2.0 mm)",
			"gear shifted along the train by 0.3 mm too much", "", "", "alone 0.3 mm more",
			"AT: 0.3 mm more shift along the train", "AT, its shift along the train,", ""}},
		{"flat", 2, [10]string{"soft foot", "soft foot at most 2.0 mm",
			"AT: as much soft foot as the shim packs may leave (1.0 of 2.0 mm)", "gear flat at in, out, 0.3 mm too much",
			"AT: the packs leave 1.0 mm of soft foot", "gear at in, out", "alone 0.3 mm more", "AT: 0.3 mm more soft foot",
			"AT, its soft foot,", ""}},
		{"lower", 2, [10]string{"shims out", "at most 2.0 mm of shims may come out",
			"AT is base-bound: 1.0 of the 2.0 mm of shims that may come out", "gear base-bound at in, out, 0.3 mm short", "",
			"gear is base-bound at in, out", "alone 0.3 mm more", "AT: 0.3 mm more of shims to take out", "AT, its pack,", ""}},
		{"lower", -2, [10]string{"shims out", "at least 2.0 mm of shims must go in",
			"AT: raised by no more than the shim pack needs (1.0 mm)", "gear base-bound at in, out, 0.3 mm short", "",
			"gear must go up at in, out", "alone 0.3 mm more", "AT: 0.3 mm more of shims to take out", "AT, its pack,", ""}},
		{"raise", 2, [10]string{"shims in", "at most 2.0 mm of shims may go in", "AT: no more may be added (1.0 of 2.0 mm)",
			"gear raised at in, out by 0.3 mm too much", "", "gear can't go up further at in, out", "alone 0.3 mm more",
			"AT: 0.3 mm more that may go in", "AT, its pack,", less}},
		{"bolt", 2, [10]string{"bolt in its hole", "the bolt leaves at most 2.0 mm each way from the hole's centre",
			"AT is bolt-bound to the left (1.0 of 2.0 mm)", "gear bolt-bound at in, out, 0.3 mm short", "",
			"gear is bolt-bound at in, out", "alone 0.3 mm more each way (holes wider by 0.6 mm)", "AT: a hole wider by 0.3 mm",
			"AT, the bolt in its hole,", ""}},
		{"travel", 2, [10]string{"travel", "travel left at most 2.0 mm",
			"AT is at the end of its travel to the left (1.0 of 2.0 mm)", "gear past its travel at in, out, 0.3 mm", "",
			"gear can't go further sideways at in, out", "alone 0.3 mm more", "AT: 0.3 mm more travel",
			"AT, its side travel,", ""}},
		{"hold", 0, [10]string{"hold", "hold", "", "gear is held and would move", "", "", "", "", "", ""}},
		{"steps", 0, [10]string{"steps",
			"shims change in whole steps of 2.0 mm, and other moves are set as finely as a dial shows",
			"", "", "", "gear at in, out", "", "", "", ""}},
		{"stock", 0, [10]string{"stock", "shim packs are made from the stock: not every thickness that is needed can be made",
			"", "", "", "gear at in, out", "", "", "", ""}},
		{"least", 0, [10]string{"least", "what is moved at a foot moves by at least 2.0 mm (least_move, else twice " +
			"placing), or not at all",
			"", "", "", "gear at in, out", "", "", "", ""}},
	} {
		p := PhrasesOf(c.kind, c.bound)
		assert.Equal(t, c.kind, p.Kind)
		got := [10]string{p.Name, p.Stated, p.AtEnd, p.Broken, p.Comes, p.Conflict, p.Alone, p.More, p.Subject, p.Filled}
		for i := range got {
			got[i] = Fill(got[i], blanks...)
			assert.Equal(t, c.want[i], got[i], "%s, phrase %d", c.kind, i)
			assert.False(t, strings.ContainsAny(got[i], "{}"), "a blank is left: %s", got[i])
		}
	}
}

// Every kind of a train file has its row, once, and what has a number by moves can be told of in every way.
func TestEveryLimitHasPhrases(t *testing.T) {
	seen := map[train.LimitKind]int{}
	for _, p := range limitPhrases {
		if !p.Demand {
			seen[p.Kind]++
		}
	}
	for _, kind := range train.LimitKinds() {
		assert.Equal(t, 1, seen[kind], kind)
		p, info := PhrasesOf(kind, 1), kind.Info()
		assert.False(t, p.Demand, kind)
		assert.NotEmpty(t, p.Name, kind)
		assert.NotEmpty(t, p.Stated, kind)
		if info.Unit == train.UnitNone {
			continue
		}
		for _, phrase := range []string{p.AtEnd, p.Broken, p.Alone, p.More} {
			assert.NotEmpty(t, phrase, kind)
		}
		assert.Equal(t, info.At == train.OfFoot, p.Conflict != "", kind)
		assert.Equal(t, info.At != train.OfCoupling, p.Subject != "", kind)
	}
	assert.Len(t, seen, len(train.LimitKinds()))
	assert.PanicsWithValue(t, "words: no phrases for limits of kind colour", func() { PhrasesOf("colour", 1) })
}

// By hand, in both units: 1.2353 mm is 48.634 mil and 0.04863 in; an angle is in mrad everywhere. A shim is as fine as
// its number needs; up is never less than the number; a price is of mil per mil, mil per mrad or mil per inch.
func TestNumbersOfLimits(t *testing.T) {
	mm := Numbers{Units: train.Millimetres, MoveDecimals: 2, FineDecimals: 3}
	inch := Numbers{Units: train.Inches, MoveDecimals: 1, FineDecimals: 2}
	for _, c := range []struct {
		kind                  train.LimitKind
		value, up, unit, cost string // in a file in mm
		mil, milUp, in, each  string // in a file in inches
	}{
		{"offset", "1.235", "1.236", "mm", "0.508", "48.63", "48.64", "mil", "0.508"},
		{"flat", "1.235", "1.236", "mm", "0.508", "48.63", "48.64", "mil", "0.508"},
		{"lower", "1.235", "1.236", "mm", "0.508", "48.63", "48.64", "mil", "0.508"},
		{"steps", "1.24", "1.236", "mm", "0.508", "48.6", "48.64", "mil", "0.508"},
		{"gap", "1.235", "1.236", "mm", "0.508", "0.0486", "0.0487", "inch", "508.000"},
		{"pitch", "1.235", "1.236", "mrad", "0.508", "1.235", "1.236", "mrad", "20.000"},
		{"flex", "1.235", "1.236", "mrad", "0.508", "1.235", "1.236", "mrad", "20.000"},
	} {
		v := 1.2353
		got := [...]string{
			string(mm.Limit(c.kind, v)), string(mm.LimitUp(c.kind, v)), mm.LimitUnit(c.kind),
			string(mm.LimitPrice(c.kind, 0.508)),
			string(inch.Limit(c.kind, v)), string(inch.LimitUp(c.kind, v)), inch.LimitUnit(c.kind),
			string(inch.LimitPrice(c.kind, 0.508)),
		}
		assert.Equal(t, [...]string{c.value, c.up, c.unit, c.cost, c.mil, c.milUp, c.in, c.each}, got, c.kind)
	}
	assert.Equal(t, Number("1.20"), mm.Limit(train.LimitRaise, 1.2), "no more decimals than it needs")
}
