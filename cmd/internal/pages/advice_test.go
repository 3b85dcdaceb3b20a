package pages

import (
	"bytes"
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
	"leastmove/optimize"
	"leastmove/optimize/ways"
	"leastmove/train"
)

// A conflict and the options in the words of the trade. By hand: 0.3101 is
// rounded up; a bolt that needs 0.25 more each way needs a hole wider by 0.50.
func TestTextAdvice(t *testing.T) {
	places := map[string]int{"lower": 77, "hole": 80, "cut": 77, "limit.offset": 131}
	s := flat(textOf(t, advised(t), Page{Input: view.Input{Line: func(p view.Place) int { return places[p.Key] }}}))
	for _, want := range []string{
		"It is one such set, there may be others. After \"alone\": how much more that limit alone would have to give " +
			"for the others of this set to hold.",
		"- compressor is base-bound at drive end left and right: at most 2.50 mm of shims may come out; alone 0.311 mm " +
			"more (line 77)",
		"- compressor is bolt-bound at drive end left and right: the bolt leaves at most 0.500 mm each way from the " +
			"hole's centre; alone 0.250 mm more each way (holes wider by 0.500 mm) (line 80)",
		"- low speed, cold start: offset at most 0.120 mm; alone 0.040 mm more (line 131)",
		"distance between shaft ends off what is wanted at most 0.500 mm Giving that much may bring the next set of " +
			"limits into play; the options were planned.",
		"1. Open the holes of compressor drive end left and right from 25 to 26.5 mm (line 80). With that, a plan of " +
			"4.96 mm exists; none is below 4.957 mm (proven). Cost 3. Maker and owner must agree. A plate washer must " +
			"cover the hole.",
		"2. Make 0.35 mm of room under compressor drive end left and right, turn the shank of the bolt of compressor " +
			"drive end right down from 24 to 22.5 mm, and let the left and right shim packs of compressor differ (line " +
			"77). With that, a plan of 5.10 mm exists. Cost 12.5.",
		"Mill the feet or the baseplate by as much",
		"No shank below the minor diameter of its thread",
		"3. Release gear, which is held.",
		"4. Widen the limits at low speed: offset from 0.08 to 0.12 mm and angle from 0.5 to 0.75 mrad (line 131).",
		"Needs the agreement of the coupling maker and of the owner.",
	} {
		assert.Contains(t, s, want)
	}
	assert.NotContains(t, s, "--widen", "wider limits were looked at")
}

// What only some sizes of moves pass is in the file, and what fills a gap is not
// among what may go in.
func TestTextOfTheLattice(t *testing.T) {
	p := impossible(t)
	p.Conflict = nil
	for _, l := range []optimize.Limit{none(train.LimitStock), none(train.LimitLeast), footLimit(train.LimitRaise, 2, 0),
		footLimit(train.LimitRaise, 2, 2)} {
		p.Conflict = append(p.Conflict, optimize.Member{Limit: l, Short: math.NaN()})
	}
	p.Train.Machines[2].Feet[0].Soft, p.Train.Machines[2].Feet[0].Filled = 0.05, 0.05
	p.Train.Aim.LeastMove = 0.3
	p.Train.Shims.MaxPieces = 4
	places := map[string]int{"shims.stock": 7, "shims.max_pieces": 8, "aim.least_move": 9}
	layout := Page{Input: view.Input{Line: func(p view.Place) int { return places[p.Key] }}}
	s := flat(textOf(t, p, layout))
	for _, want := range []string{
		"- shim packs are made from the usual stock, of 4 pieces at most: not every thickness that is needed can be " +
			"made (line 8)",
		"- what is moved at a foot moves by at least 0.30 mm (least_move, else twice placing), or not at all (line 9)",
		"- compressor can't go up further at drive end left: at most 0.50 mm of shims may go in (less what fills the " +
			"gap under it)",
		"- compressor can't go up further at far end left: at most 5.00 mm of shims may go in",
	} {
		assert.Contains(t, s, want)
	}
	assert.NotContains(t, s, "After \"alone\"", "nothing was measured")
	assert.NotContains(t, s, "next set of limits")
	p.Train.Shims.Stock, p.Train.Shims.MaxPieces = []float64{0.5}, 0
	assert.Contains(t, flat(textOf(t, p, layout)), "- shim packs are made from the stock: not every thickness that "+
		"is needed can be made (line 7)")
	assert.Contains(t, string(asJSON(t, p)), `"kind": "stock"`)
	assert.Contains(t, string(asJSON(t, p)), `"kind": "least"`)
}

// The edits in JSON are those of the train file: a pair of feet is one table.
func TestJSONReliefIsEdits(t *testing.T) {
	var d struct {
		Clash []struct {
			Kind, Foot string
			Short      *float64
			Line       int
		}
		Relief []struct {
			Kind, Text         string
			Cost, Total, Bound *float64
			Edits              []map[string]any
		}
	}
	var b bytes.Buffer
	require.NoError(t, planJSON(&b, view.Of(advised(t)), Page{Input: view.Input{Line: func(view.Place) int { return 9 }}}))
	require.NoError(t, json.Unmarshal(b.Bytes(), &d))
	require.Len(t, d.Relief, 4)
	assert.Equal(t, 0.311, *d.Clash[0].Short)
	assert.Nil(t, d.Clash[5].Short, "giving does not help")
	assert.Equal(t, 9, d.Clash[0].Line)
	assert.Equal(t, "open holes", d.Relief[0].Kind)
	assert.Equal(t, "open the holes of compressor drive end left and right from 25 to 26.5 mm", d.Relief[0].Text)
	assert.Equal(t, 3.0, *d.Relief[0].Cost)
	assert.Equal(t, 4.957, *d.Relief[0].Bound)
	assert.Nil(t, d.Relief[1].Bound)
	assert.Equal(t, []map[string]any{{"machine": "compressor", "foot": "drive end", "key": "hole", "from": 25.0,
		"to": 26.5}}, d.Relief[0].Edits)
	assert.Equal(t, []map[string]any{
		{"machine": "compressor", "foot": "drive end", "key": "cut", "from": 0.0, "to": 0.35},
		{"machine": "compressor", "foot": "drive end right", "key": "bolt", "from": 24.0, "to": 22.5},
		{"machine": "compressor", "key": "roll", "from": false, "to": true},
	}, d.Relief[1].Edits)
	assert.Equal(t, []map[string]any{{"machine": "gear", "key": "hold", "from": true, "to": false}}, d.Relief[2].Edits)
	assert.Equal(t, map[string]any{"coupling": "low speed", "key": "limit.angle", "from": 0.5, "to": 0.75},
		d.Relief[3].Edits[1])
}

// In an inch file holes are in inches and packs in mils.
func TestEditsInInches(t *testing.T) {
	s := formatterOf(read(t, "inch.toml"))
	assert.Equal(t, "0.8125", s.EditFrom("hole", 0.8125*train.Inch).Short())
	assert.Equal(t, "0.875", s.EditTo("hole", 0.875*train.Inch).Short())
	assert.Equal(t, "14", s.EditTo("cut", 14*train.Mil).Short(), "0.3556 mm")
}

// All that depends on an option says so, and shims make up for what was cut: a
// pack of 3.00 with 0.35 off its foot, raised by 0.45, is 3.80.
func TestTextRelieved(t *testing.T) {
	p, r := relieved(t)
	page := textUnder(t, p, r)
	s := flat(page)
	for _, want := range []string{
		"(invented) With relief 2: make 0.35 mm of room under compressor drive end left and right,",
		"With relief 2, move 2 of 4 machines;",
		"Moves (with relief 2) -----",
		"shims = move of the foot + what comes off. The total, and the largest move, count the move of the foot.",
		"compressor: the shims make up for what comes off feet or base first, 0.35 mm at drive end left and right",
		"drive end left raise 0.80 mm 3.00 -> 3.80 left 0.20 mm",
		"far end left raise 0.45 mm 3.00 -> 3.45 left 0.20 mm",
		"Total movement (with relief 2) ",
		"5.40 mm with relief 2: what is moved",
		"With relief 2, no plan within 70 % of the limits has",
	} {
		assert.Contains(t, s, want)
	}
	everyHeading(t, page, "(with relief 2)")
	var b bytes.Buffer
	require.NoError(t, planJSON(&b, under(p, r), Page{}))
	assert.Contains(t, b.String(), `"number": 2,`)
	assert.Contains(t, flat(b.String()), `"cut": 0.35, "pack": { "now": 3, "then": 3.8 }`)
}

// everyHeading holds that every heading of a page bears a mark.
func everyHeading(t *testing.T, page, mark string) {
	lines := bytes.Split([]byte(page), []byte("\n"))
	for i, line := range lines[1:] {
		if bytes.HasPrefix(line, []byte("---")) && !bytes.HasPrefix(lines[i], []byte("First:")) {
			assert.Contains(t, string(lines[i]), mark)
		}
	}
}

// Soft foot comes first and makes the rest provisional. 3.2 mil is over 2 mil,
// 0.4 mil is not.
func TestTextSoft(t *testing.T) {
	page := textOf(t, softened(t), Page{})
	s := flat(page)
	for _, want := range []string{
		"(invented) PROVISIONAL: put the soft foot right first",
		"First: soft foot ---------------- - Put 3.0 mil under gear in left: 3.20 mil measured with its bolt loose.",
		"Leave pump outboard right as it is: 0.40 mil measured with its bolt loose, and a shim would leave no less.",
		"Moves are counted from there. Shims and shim packs below are counted from the shim packs as the file has them, " +
			"with what fills a gap among what goes in: do not put it in twice. What is left of a gap counts as soft foot. " +
			"Too soft to align on, over 2.0 mil (Bloch & Geitner: .002 in): gear in left. Then",
		"read every coupling again and plan from those readings",
		"Out and in are counted from the shim packs as the file has them: what fills a gap is among what goes in.",
		"gear in left 2.0 + 7.5 0.5 0.5",
		"gear out left none 50.0 + 25.0 + 13.0 not stated",
		"To have at hand: 1 of 0.5 mil and 2 of 25.0 mil.",
	} {
		assert.Contains(t, s, want)
	}
	everyHeading(t, page, "(PROVISIONAL)")
	p := softened(t)
	js := flat(string(asJSON(t, p)))
	assert.Contains(t, js, `"provisional": true`)
	assert.Contains(t, js, `"pack": { "now": 9.5, "then": 0.5 }`, "9.5 in the file, 3 fill the gap, 12 come out")
	p.Soft = p.Soft[1:]
	assert.NotContains(t, textOf(t, p, Page{}), "PROVISIONAL", "0.4 mil is no soft foot")
	assert.Contains(t, string(asJSON(t, plannedInch(t))), `"provisional": false`)
}

// What limits cost, largest saving first, and nothing of those that cost nothing.
func TestTextShadowPrices(t *testing.T) {
	s := flat(textOf(t, softened(t), Page{}))
	assert.Contains(t, s, "- gear in left: a hole wider by 20.00 mil saves at most 33.0, about 24.4; as much less "+
		"costs about 35.4 "+
		"- gear in left: 5.0 mil more of shims to take out saves at most 9.0, about 8.0; as much less can't be kept "+
		"within this share "+
		"- pump coupling, running: 0.050 mrad more for angle at a flex plane saves at most 1.5 ")
}

// Cold and at rest there is no growth: the turbine grows by 0.03, and the moves
// bring 0.32 high to 0.02. Flex planes are 200 either side of x: by hand
// (0.02 + 0.2 * 0.1) / 0.4 = 0.1 up, and at the other -(0.02 - 0.02) / 0.4 = 0.
func TestTextRest(t *testing.T) {
	s := flat(textOf(t, plannedMM(t), Page{}))
	assert.Contains(t, s, "plane up and down sideways x = 1800 0.020 high, slopes up 0.100 0.050 left, points "+
		"right 0.050 "+
		"flex plane 1600 slopes up 0.100 points left 0.100 flex plane 2000 0.000 points right 0.150 shaft ends "+
		"400.000 mm apart")
}

// A gear that rolls takes its shaft aside: 1 mil in 20 inches is 0.05 mrad, and
// its shaft stands 20 inches high.
func TestTextRoll(t *testing.T) {
	s := flat(textOf(t, plannedInch(t), Page{}))
	assert.Contains(t, s, "right side high 0.050 0.400 mrad")
	assert.Contains(t, s, "gear rolls by 0.050 mrad, right side up. That alone takes its shaft 1.00 mil to the left;")
	assert.Contains(t, s, "gear in left 112.0 0.5 62.2 0.2 down, right", "12 of 12.5 down, 31 of 31.25 to the right")
}

// What is within a limit is never said to be outside, nor over 100 %; what is
// past it by less than shows is said in words.
func TestShareAtItsLimit(t *testing.T) {
	assert.Equal(t, "100 %, within it", words.Share(1))
	assert.Equal(t, "100 %, within it", words.Share(1+words.Fair/2))
	assert.Equal(t, "100 %, within it", words.Share(0.999))
	assert.Equal(t, "over 100 %, outside it", words.Share(1.00001))
	assert.Equal(t, "102 %, outside it", words.Share(1.011))
}

// Two conditions further apart than their limits allow: what growth does between
// them, by hand 1.3 - 0.1 mm against 0.25 + 2 × 0.25 mm, is said.
func TestTextParted(t *testing.T) {
	p, err := ways.Make(t.Context(), read(t, "parted.toml"), optimize.Options{})
	require.NoError(t, err)
	s := flat(textOf(t, p, Page{}))
	assert.Contains(t, s, "No move changes this: growth and journal shift alone put 1.200 mm between the offset of p "+
		"in running and in cold start (what is wanted counted), and the two limits together allow 0.750 mm.")
	p.Conflict = p.Conflict[:1]
	assert.Contains(t, flat(textOf(t, p, Page{})), "No move changes this", "whatever else is in conflict")
	p.Train.Conditions[1].Use = 3.81 // 0.25 + 3.81 × 0.25 mm is more than 1.2
	p.Found = p.Train.Check(p.Train.Stay())
	assert.NotContains(t, flat(textOf(t, p, Page{})), "No move changes this")
}

// The same of limits added up: by hand 1.2 mm of 0.25 is 480 %, no angle grows, and both conditions may use 100 + 200
// %.
func TestTextPartedAddedUp(t *testing.T) {
	tr := read(t, "parted.toml")
	tr.Couplings[0].Limit.Combined = true
	p, err := ways.Make(t.Context(), tr, optimize.Options{})
	require.NoError(t, err)
	assert.Contains(t, flat(textOf(t, p, Page{})), "No move changes this: between running and cold start growth and "+
		"journal shift alone come to 480 % of the limits of p, added up (what is wanted counted), and the two together "+
		"allow 300 %.")
}

// What no option changes is said where it is in the way: travel.
func TestTextTravelIsFixed(t *testing.T) {
	tr := read(t, "parted.toml")
	p := emptyPlan(tr, optimize.Impossible)
	assert.NotContains(t, flat(textOf(t, p, Page{})), "travel")
	tr.Machines[1].Feet[0].TravelLeft = 0.05
	p.Conflict = []optimize.Member{{Limit: optimize.Limit{Kind: train.LimitTravel, Machine: 1, Nozzle: -1, Coupling: -1,
		Condition: -1}, Short: 0.135}}
	assert.Contains(t, flat(textOf(t, p, Page{})), "No option changes travel: that of two a left is taken as fixed.")
}
