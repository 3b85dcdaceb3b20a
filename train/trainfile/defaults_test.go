package trainfile

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/train"
)

// Every key with a default, written by hand from what the documents state: table, key, unit in an mm and in an inch
// file, default there, and the range in an mm and in an inch file. A change of the tables must be made here too.
// Ranges in inch files are those in mm divided by 25.4 (inch) or 0.0254 (mil).
var byHand = []struct {
	table, key, unit, unitInch, value, valueInch, allowed, allowedInch string
}{
	{"[sides]", "left", "", "", "left", "left", "", ""},
	{"[sides]", "right", "", "", "right", "right", "", ""},
	{"[shims]", "step", "mm", "mil", "0.05", "1", "over 0 and at most 10 mm", "over 0 and at most 393.7 mil"},
	{"[shims]", "flat", "mm", "mil", "half a step with feet at two stations, else one step",
		"half a step with feet at two stations, else one step", "from 0 to 10 mm", "from 0 to 393.7 mil"},
	{"[[machine]]", "flat", "mm", "mil", "that of [shims]", "that of [shims]", "from 0 to 10 mm", "from 0 to 393.7 mil"},
	{"[shims]", "keep", "mm", "mil", "0", "0", "from 0 to 300 mm", "from 0 to 11811 mil"},
	{"[errors]", "offset", "mm", "mil", "0.02", "1", "from 0 to 10 mm", "from 0 to 393.7 mil"},
	{"[errors]", "angle", "mrad", "mrad", "0.05", "0.05", "from 0 to 50 mrad", "from 0 to 50 mrad"},
	{"[errors]", "placing", "mm", "mil", "0.02", "1", "from 0 to 10 mm", "from 0 to 393.7 mil"},
	{"[errors]", "growth", "", "", "0.2", "0.2", "from 0 to 5", "from 0 to 5"},
	{"[errors]", "growth_least", "mm", "mil", "0.02", "1", "from 0 to 10 mm", "from 0 to 393.7 mil"},
	{"[aim]", "use", "", "", "0.7", "0.7", "over 0 and at most 1", "over 0 and at most 1"},
	{"[aim]", "chance", "", "", "not stated", "not stated", "over 0 and at most 0.9999", "over 0 and at most 0.9999"},
	{"[aim]", "transient", "", "", "not stated", "not stated", "over 0 and at most 5", "over 0 and at most 5"},
	{"[aim]", "touch", "mm", "mil", "0", "0", "from 0 to 1000 mm", "from 0 to 39370 mil"},
	{"[aim]", "least_move", "mm", "mil", "twice errors.placing", "twice errors.placing", "from 0 to 10 mm",
		"from 0 to 393.7 mil"},
	{"[relief]", "hole", "", "", "20", "20", "over 0 and at most 1000000", "over 0 and at most 1000000"},
	{"[relief]", "bolt", "", "", "10", "10", "over 0 and at most 1000000", "over 0 and at most 1000000"},
	{"[relief]", "pack", "", "", "40", "40", "over 0 and at most 1000000", "over 0 and at most 1000000"},
	{"[relief]", "raise", "", "", "5", "5", "over 0 and at most 1000000", "over 0 and at most 1000000"},
	{"[relief]", "axial", "", "", "30", "30", "over 0 and at most 1000000", "over 0 and at most 1000000"},
	{"[relief]", "roll", "", "", "5", "5", "over 0 and at most 1000000", "over 0 and at most 1000000"},
	{"[relief]", "release", "", "", "200", "200", "over 0 and at most 1000000", "over 0 and at most 1000000"},
	{"[relief]", "open", "mm", "inch", "6", "0.25", "from 0 to 50 mm", "from 0 to 1.9685 inch"},
	{"[relief]", "cut", "mm", "mil", "3", "120", "from 0 to 50 mm", "from 0 to 1968.5 mil"},
	{"[relief]", "axial_per_mm", "", "", "5", "5", "from 0 to 1000000", "from 0 to 1000000"},
	{"[relief]", "axial_most", "mm", "mil", "3", "120", "from 0 to 1000 mm", "from 0 to 39370 mil"},
	{"[checks]", "ring", "mm", "mil", "0.03", "1.5", "over 0 and at most 100 mm", "over 0 and at most 3937 mil"},
	{"[checks]", "back", "mm", "mil", "0.02", "1", "over 0 and at most 100 mm", "over 0 and at most 3937 mil"},
	{"[checks]", "residual", "mm", "mil", "0.03", "1.5", "over 0 and at most 100 mm", "over 0 and at most 3937 mil"},
	{"[checks]", "repeat", "mm", "mil", "0.05", "2", "over 0 and at most 100 mm", "over 0 and at most 3937 mil"},
	{"[checks]", "method", "mm", "mil", "0.05", "2", "over 0 and at most 100 mm", "over 0 and at most 3937 mil"},
	{"[checks]", "span", "mm", "inch", "200", "8", "over 0 and at most 20000 mm", "over 0 and at most 787.4 inch"},
	{"[checks]", "survey", "mm", "mil", "0.1", "4", "over 0 and at most 100 mm", "over 0 and at most 3937 mil"},
	{"[checks]", "survey_angle", "mrad", "mrad", "0.5", "0.5", "over 0 and at most 100 mrad",
		"over 0 and at most 100 mrad"},
	{"[[machine]]", "at", "mm", "inch", "0", "0", "from -10000000 to 10000000 mm", "from -393701 to 393701 inch"},
	{"[[machine]]", "rpm", "1/min", "1/min", "not stated", "not stated", "over 0 and at most 300000 1/min",
		"over 0 and at most 300000 1/min"},
	{"[[machine]]", "hold", "", "", "false", "false", "", ""},
	{"[[machine]]", "roll", "", "", "false", "false", "", ""},
	{"[[machine]]", "axial", "", "", "false", "false", "", ""},
	{"[[machine]]", "effort", "", "", "1", "1", "from 0.001 to 1000", "from 0.001 to 1000"},
	{"level = { }", "pitch", "mrad", "mrad", "no limit", "no limit", "over 0 and at most 100 mrad",
		"over 0 and at most 100 mrad"},
	{"level = { }", "roll", "mrad", "mrad", "no limit", "no limit", "over 0 and at most 100 mrad",
		"over 0 and at most 100 mrad"},
	{"level.found = { }", "pitch", "mrad", "mrad", "not stated", "not stated", "from -100 to 100 mrad",
		"from -100 to 100 mrad"},
	{"level.found = { }", "roll", "mrad", "mrad", "not stated", "not stated", "from -100 to 100 mrad",
		"from -100 to 100 mrad"},
	{"[[machine]]", "run", "", "", "not stated", "not stated", "", ""},
	{"[[machine]]", "clearance", "mm", "mil", "not stated", "not stated", "over 0 and at most 10 mm",
		"over 0 and at most 393.7 mil"},
	{"[[machine.shaft]]", "run", "", "", "not stated", "not stated", "", ""},
	{"[[machine.shaft]]", "y", "mm", "inch", "0", "0", "from -20000 to 20000 mm", "from -787.4 to 787.4 inch"},
	{"[[machine.shaft]]", "z", "mm", "inch", "0", "0", "from -20000 to 20000 mm", "from -787.4 to 787.4 inch"},
	{"[[machine.shaft]]", "rpm", "1/min", "1/min", "the machine's", "the machine's", "over 0 and at most 300000 1/min",
		"over 0 and at most 300000 1/min"},
	{"[[machine.shaft]]", "clearance", "mm", "mil", "not stated", "not stated", "over 0 and at most 10 mm",
		"over 0 and at most 393.7 mil"},
	{"[[machine.shaft]]", "growth", "", "", "the machine's", "the machine's", "", ""},
	{"run = { }", "v", "mm", "mil", "0", "0", "from -10 to 10 mm", "from -393.7 to 393.7 mil"},
	{"run = { }", "h", "mm", "mil", "0", "0", "from -10 to 10 mm", "from -393.7 to 393.7 mil"},
	{"[[machine.foot]]", "shim", "mm", "mil", "not stated", "not stated", "from 0 to 300 mm", "from 0 to 11811 mil"},
	{"[[machine.foot]]", "soft", "mm", "mil", "not stated", "not stated", "from 0 to 5 mm", "from 0 to 196.85 mil"},
	{"[[machine.foot]]", "lower", "mm", "mil", "shim - keep", "shim - keep", "from 0 to 300 mm", "from 0 to 11811 mil"},
	{"[[machine.foot]]", "raise", "mm", "mil", "no limit", "no limit", "from 0 to 300 mm", "from 0 to 11811 mil"},
	{"[[machine.foot]]", "cut", "mm", "mil", "0", "0", "from 0 to 20 mm", "from 0 to 787.4 mil"},
	{"[[machine.foot]]", "bolt", "mm", "inch", "not stated", "not stated", "over 0 and at most 300 mm",
		"over 0 and at most 11.811 inch"},
	{"[[machine.foot]]", "hole", "mm", "inch", "not stated", "not stated", "over 0 and at most 500 mm",
		"over 0 and at most 19.685 inch"},
	{"[[machine.foot]]", "bolt_at", "mm", "inch", "[0, 0]", "[0, 0]", "from -200 to 200 mm", "from -7.874 to 7.874 inch"},
	{"[[machine.foot]]", "free", "mm", "mil", "0", "0", "from 0 to 100 mm", "from 0 to 3937 mil"},
	{"[[machine.foot]]", "height", "mm", "inch", "the machine's", "the machine's", "over 0 and at most 10000 mm",
		"over 0 and at most 393.7 inch"},
	{"travel = { }", "left", "mm", "mil", "no limit", "no limit", "from 0 to 500 mm", "from 0 to 19685 mil"},
	{"travel = { }", "right", "mm", "mil", "no limit", "no limit", "from 0 to 500 mm", "from 0 to 19685 mil"},
	{"[[machine.growth]]", "x", "mm", "inch", "0", "0", "from -10000000 to 10000000 mm", "from -393701 to 393701 inch"},
	{"[[machine]]", "step", "mm", "mil", "that of [shims]", "that of [shims]", "from 0 to 10 mm", "from 0 to 393.7 mil"},
	{"[[machine]]", "stock", "mm", "mil", "that of [shims]", "that of [shims]", "over 0 and at most 300 mm",
		"over 0 and at most 11811 mil"},
	{"[[machine]]", "max_pieces", "", "", "that of [shims]", "that of [shims]", "from 1 to 100", "from 1 to 100"},
	{"[[machine.growth]]", "y", "mm", "inch", "0", "0", "from -20000 to 20000 mm", "from -787.4 to 787.4 inch"},
	{"[[machine.growth]]", "v", "mm", "mil", "0", "0", "from -50 to 50 mm", "from -1968.5 to 1968.5 mil"},
	{"[[machine.growth]]", "h", "mm", "mil", "0", "0", "from -50 to 50 mm", "from -1968.5 to 1968.5 mil"},
	{"[[machine.growth]]", "a", "mm", "mil", "0", "0", "from -50 to 50 mm", "from -1968.5 to 1968.5 mil"},
	{"[[machine.nozzle]]", "y", "mm", "inch", "0", "0", "from -20000 to 20000 mm", "from -787.4 to 787.4 inch"},
	{"[[machine.nozzle]]", "limit", "mm", "mil", "no limit", "no limit", "over 0 and at most 100 mm",
		"over 0 and at most 3937 mil"},
	{"[[coupling]]", "rpm", "1/min", "1/min", "the faster of its two shafts'", "the faster of its two shafts'",
		"over 0 and at most 300000 1/min", "over 0 and at most 300000 1/min"},
	{"[[coupling]]", "limit", "", "", "a band's", "a band's", "", ""},
	{"[coupling.limit]", "each_plane", "", "", "false", "false", "", ""},
	{"[coupling.limit]", "combined", "", "", "each limit alone", "each limit alone", `one of "sum"`, `one of "sum"`},
	{"[coupling.limit]", "gap", "mm", "inch", "no limit", "no limit", "over 0 and at most 500 mm",
		"over 0 and at most 19.685 inch"},
	{"taken = { }", "growth", "", "", "0", "0", "from 0 to 1.5", "from 0 to 1.5"},
	{"taken = { }", "run", "", "", "0", "0", "from 0 to 1.5", "from 0 to 1.5"},
	{"v = { }, h = { }", "offset", "mm", "mil", "0", "0", "from -100 to 100 mm", "from -3937 to 3937 mil"},
	{"v = { }, h = { }", "angle", "mrad", "mrad", "0", "0", "from -100 to 100 mrad", "from -100 to 100 mrad"},
	{"[[coupling.reading]]", "away", "", "", "false", "false", "", ""},
	{"[[coupling.reading]]", "pushed_in", "", "", "+", "+", `one of "+", "-"`, `one of "+", "-"`},
	{"[[coupling.reading]]", "set", "", "", "1", "1", "from 1 to 1000", "from 1 to 1000"},
	{"[[condition]]", "growth", "", "", "1", "1", "from -1 to 5", "from -1 to 5"},
	{"[[condition]]", "run", "", "", "1", "1", "from -1 to 5", "from -1 to 5"},
	{"[[condition]]", "use", "", "", "1", "1", "over 0 and at most 10", "over 0 and at most 10"},
}

// copied are tables whose keys are those of another one.
var copied = map[string]string{
	"left = { }, right = { }": "[[machine.foot]]", "[[machine.shaft.growth]]": "[[machine.growth]]",
	"[[condition.growth]]": "[[machine.growth]]", "[[coupling.target]]": "[[coupling.reading]]",
	"[[base]]": "[[machine]]", "[[base.foot]]": "[[machine.foot]]",
}

func TestDefaultsByHand(t *testing.T) {
	type at struct{ table, key string }
	want := map[at]int{}
	for i, h := range byHand {
		_, twice := want[at{h.table, h.key}]
		require.False(t, twice, "%s %s is there twice", h.table, h.key)
		want[at{h.table, h.key}] = i
	}
	seen := map[at]bool{}
	for _, table := range Tables() {
		header := table.Header
		if of := copied[header]; of != "" {
			header = of
		}
		for _, k := range table.Keys {
			if k.Default == [2]string{} {
				continue
			}
			place := at{header, k.Name}
			i, ok := want[place]
			if !assert.True(t, ok, "%s %s has a default that is not in the list", table.Header, k.Name) {
				continue
			}
			seen[place] = true
			h := byHand[i]
			assert.Equal(t, [2]string{h.value, h.valueInch}, k.Default, "%s %s: default", table.Header, k.Name)
			assert.Equal(t, h.unit, k.Unit.In(train.Millimetres), "%s %s: unit", table.Header, k.Name)
			assert.Equal(t, h.unitInch, k.Unit.In(train.Inches), "%s %s: unit", table.Header, k.Name)
			assert.Equal(t, h.allowed, k.Allowed(train.Millimetres), "%s %s: range", table.Header, k.Name)
			assert.Equal(t, h.allowedInch, k.Allowed(train.Inches), "%s %s: range", table.Header, k.Name)
		}
	}
	assert.Len(t, seen, len(byHand), "keys of the list that have a default in the tables")
}

// The reader has no defaults of its own: it takes what the table says, in the units of the file.
func TestReaderTakesDefaultsFromTheTable(t *testing.T) {
	for _, u := range []train.Units{train.Millimetres, train.Inches} {
		table := &Table{Header: "[test]", Keys: []Key{
			{Name: "step", Unit: Move, Default: [2]string{"3", "7"}}, {Name: "word", Kind: Text, Default: [2]string{"a", "b"}},
		}}
		s := &section{table: table, units: u}
		assertNear(t, [...]float64{3, 7 * 0.0254}[u], s.number("step"), "step")
		assert.Equal(t, [...]string{"a", "b"}[u], s.text("word"))
	}
}
