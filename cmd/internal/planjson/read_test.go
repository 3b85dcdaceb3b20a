package planjson

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/train"
)

// Two machines: a pump whose pair of feet "front" stands at x = 0, and one foot
// "rear"; and a motor.
func pump() *train.Train {
	return &train.Train{Machines: []train.Machine{
		{Name: "motor", Feet: []train.Foot{{Name: "a"}}},
		{Name: "pump", Feet: []train.Foot{{Name: "front left", Y: 200}, {Name: "front right", Y: -200},
			{Name: "rear", X: 500}}},
	}}
}

// A suggestion that needs no more than this: the first name with the same first
// letter.
func options() Options {
	return Options{Nearest: func(word string, names []string) string {
		for _, n := range names {
			if word != "" && n[0] == word[0] {
				return n
			}
		}
		return ""
	}}
}

func moves(t *testing.T, text string) train.Moves {
	t.Helper()
	p, faults := Read([]byte(text), options())
	require.Nil(t, faults)
	m, faults := p.Moves(pump())
	require.Nil(t, faults)
	return m
}

// By hand: 10 mils are 0.254 mm; a pair is both of its feet; what is not named
// stays.
func TestHandWritten(t *testing.T) {
	m := moves(t, `{"units": "inch", "machines": [{"name": "pump", "axial": -20, "feet": [{"name": "front", "up": 10, "left": -5}]}]}`)
	assert.Equal(t, train.FootMove{}, m[0][0], "the motor stays")
	for _, f := range m[1][:2] {
		assert.InDelta(t, 0.254, f.Up, 1e-12)
		assert.InDelta(t, -0.127, f.Left, 1e-12)
	}
	assert.Zero(t, m[1][2].Up)
	for _, f := range m[1] {
		assert.InDelta(t, -0.508, f.Axial, 1e-12, "a machine goes along the train as a whole")
	}
	m = moves(t, "\ufeff\r\n {\"units\": \"mm\", \"machines\": [{\"name\": \"pump\", \"feet\": [{\"name\": \"rear\", "+
		"\"up\": -0.45, \"axial\": 0.2}]}]}\n")
	assert.InDelta(t, -0.45, m[1][2].Up, 1e-12)
	assert.InDelta(t, 0.2, m[1][0].Axial, 1e-12, "said at one foot, it is the machine's")
}

// What the program writes has more keys, of which moves, couplings and packs are
// read. Numbers are those of README's form, invented.
func TestWritten(t *testing.T) {
	p, faults := Read([]byte(`{"schema": "leastmove.plan/1", "title": "x", "units": {"length": "inch", "move": "mil", "angle": "mrad"},
	  "status": "planned", "total": 3, "solves": 12, "machines": [{"name": "pump", "moved": true, "feet": [
	    {"name": "rear", "x": 20, "y": 0, "up": 3, "left": 0.5, "axial": 0, "pack": {"now": 100, "then": 103}, "room": {"up": null}, "limits": []}]}],
	  "couplings": [{"name": "c", "from": "motor", "to": "pump", "x": 10, "states": [{"condition": "running", "use": {"found": 3.4, "planned": 0.7},
	    "worst": {"found": "angle", "planned": "offset"}, "found": {"v": {"offset": -6, "angle": 0.8}, "h": {"offset": 4, "angle": -0.7}}}],
	    "rest": {"v": {"offset": 1, "angle": 0.1}, "h": {"offset": 2, "angle": 0.2}, "gap": 5}, "readings": {"half": {"v": {"offset": 0.5, "angle": null}}}}]}`), options())
	require.Nil(t, faults)
	assert.True(t, p.Written)
	f := p.Machines[0].Feet[0]
	assert.InDelta(t, 508, p.Length(f.X), 1e-9, "20 inches")
	assert.InDelta(t, 3*0.0254, p.UpOf(&f), 1e-12)
	then := p.PackChangeOf(&f).Then
	assert.InDelta(t, 103*0.0254, then, 1e-12)
	c := p.Couplings[0]
	assert.InDelta(t, -6*0.0254, p.PoseOf(&c.States[0].Found).V.Offset, 1e-12)
	assert.True(t, math.IsNaN(p.PoseOf(c.States[0].Planned).V.Offset), "not stated")
	assert.InDelta(t, 3.4, Value(c.States[0].Use.Found), 1e-12)
	require.NotNil(t, c.Rest)
	assert.InDelta(t, 127, p.PoseOf(&c.Rest.Reading).Gap, 1e-9, "a gap is a length")
	half := p.HalfOf(&c)
	assert.InDelta(t, 0.5*0.0254, half.V.Offset, 1e-12)
	assert.True(t, math.IsNaN(half.V.Angle))
}

// Every fault has its place, and says what to do.
func TestFaults(t *testing.T) {
	for name, c := range map[string]struct{ text, want, hint string }{
		"no text":    {``, "1:1: error: the text ends before the plan does", "not closed"},
		"not closed": {`{"units": "mm"`, "1:15: error: the text ends before the plan does", ""},
		"no JSON":    {"{\n \"units\": 'mm'}", "2:11: error: this is not JSON", "double quotes"},
		"nan": {`{"units": "mm", "machines": [{"name": "pump", "feet": [{"name": "rear", "up": NaN}]}]}`,
			"1:79: error: this is not JSON", "written in digits"},
		"too large": {`{"units": "mm", "machines": [{"name": "pump", "feet": [{"name": "rear", "up": 1e999}]}]}`,
			"1:79: error: 1e999 is no number", ""},
		"far": {`{"units": "mm", "machines": [{"name": "pump", "feet": [{"name": "rear", "up": 450}]}]}`,
			"1:79: error: up is 450: no foot moves by more than 100 mm", "units"},
		"no number": {`{"units": "mm", "machines": [{"name": "pump", "feet": [{"name": "rear", "up": "0.4"}]}]}`,
			"1:79: error: up is a text, it must be a number", ""},
		"more after":  {`{"units": "mm", "machines": []} {}`, "1:33: error: there is more after the end", ""},
		"no object":   {`[1]`, "1:1: error: a plan is an object { }, not a list [ ]", ""},
		"no units":    {`{"machines": []}`, "1:1: error: the plan does not say its units", `"units": "mm"`},
		"wrong units": {`{"units": "cm", "machines": []}`, `1:11: error: units is neither`, ""},
		"mixed units": {`{"units": {"length": "mm", "move": "mil"}, "machines": []}`,
			"1:36: error: the unit of moves does not go with that of lengths", ""},
		"no machines": {`{"units": "mm"}`, "1:1: error: there are no machines", "feet"},
		"unknown key": {`{"units": "mm", "machines": [{"name": "pump", "feet": [{"name": "rear", "lift": 1}]}]}`,
			`1:73: error: unknown key "lift"`, `did you mean "left"?`},
		"said twice": {`{"units": "mm", "units": "mm"}`, `1:17: error: "units" is said twice`, ""},
		"another schema": {`{"schema": "leastmove.check/1", "units": "mm", "machines": []}`, "1:12: error: this is no plan",
			"leastmove plan"},
		"no plan": {`{"schema": "leastmove.plan/1", "status": "impossible", "units": "mm"}`,
			"1:42: error: the plan is impossible: it has no moves", ""},
		"no name":      {`{"units": "mm", "machines": [{"feet": []}]}`, "1:30: error: a machine has no name", ""},
		"list of what": {`{"units": "mm", "machines": [3]}`, "1:30: error: here stands a number", ""},
		"deep":         {strings.Repeat(`[`, 40), "1:33: error: more than 32 lists", ""},
		"machine": {`{"units": "mm", "machines": [{"name": "pomp", "feet": []}]}`,
			`1:30: error: the train has no machine "pomp"`, `did you mean "pump"?`},
		"foot": {`{"units": "mm", "machines": [{"name": "pump", "feet": [{"name": "reer"}]}]}`,
			`1:56: error: machine "pump" has no foot "reer"`, `did you mean "rear"?`},
		"machine twice": {`{"units": "mm", "machines": [{"name": "pump"}, {"name": "pump"}]}`,
			`1:48: error: machine "pump" is there twice`, ""},
		"foot twice": {`{"units": "mm", "machines": [{"name": "pump", "feet": [{"name": "front"}, {"name": "front left"}]}]}`, `1:75: error: foot "front left" of "pump" is there twice`, ""},
		"two shifts": {`{"units": "mm", "machines": [{"name": "pump", "feet": [{"name": "front", "axial": 1}, {"name": "rear", "axial": 2}]}]}`, `1:87: error: machine "pump" is shifted along the train by different amounts`, "as a whole"},
	} {
		t.Run(name, func(t *testing.T) {
			p, faults := Read([]byte(c.text), options())
			if faults == nil {
				_, faults = p.Moves(pump())
			}
			require.NotEmpty(t, faults)
			text := faults.Text("plan.json")
			assert.Contains(t, text, "plan.json:"+c.want)
			assert.Contains(t, text, c.hint)
		})
	}
}

// A slip of a key in a plan that the program wrote is told, its other keys are not.
func TestSlips(t *testing.T) {
	text := `{"schema": "leastmove.plan/1", "units": "mm", "later": 1, "machines": [{"name": "pump", "level": {}, "feet": [{"name": "rear", "soft": 0, "lft": 0.2}]}]}`
	_, faults := Read([]byte(text), options())
	require.Len(t, faults, 1)
	assert.Contains(t, faults[0].Message, `"lft"`)
}

// Whatever the text, there is a plan or a fault with a place in it, and a plan has
// finite moves.
func FuzzRead(f *testing.F) {
	f.Add(`{"units": "mm", "machines": [{"name": "pump", "axial": 0.1, "feet": [{"name": "front", "up": -0.45, "left": 0.2}]}]}`)
	f.Add(`{"schema": "leastmove.plan/1", "status": "planned", "units": {"length": "inch", "move": "mil"}, "machines": [], "couplings": [{"name": "c", "rest": {"v": {}}, "flex": [1, 2], "states": [{"use": {"found": 1}}]}]}`)
	f.Add(`[[[[[[[[`)
	f.Add(`{"units": "mm", "machines": [{"name": "pump", "feet": [{"name": "rear", "up": 1e999}]}]}`)
	f.Add("{\"a\":\"\\ud800\xff\"")
	f.Add(`nul`)
	f.Fuzz(func(t *testing.T, text string) {
		p, faults := Read([]byte(text), options())
		require.Equal(t, p == nil, len(faults) > 0)
		if p != nil {
			m, more := p.Moves(pump())
			require.Equal(t, m == nil, len(more) > 0)
			faults = more
			for _, feet := range m {
				for _, f := range feet {
					for _, v := range []float64{f.Up, f.Left, f.Axial} {
						require.LessOrEqual(t, math.Abs(v), farthest) // not where it is NaN
					}
				}
			}
			_, _ = p.Of(pump())
		}
		for _, f := range faults {
			require.Positive(t, f.Line)
			require.LessOrEqual(t, f.Line, 1+strings.Count(text, "\n"))
			require.Positive(t, f.Column)
			require.NotContains(t, f.Message, "\n")
		}
	})
}

// A file that is too large is refused before it is gone through.
func TestTooLarge(t *testing.T) {
	_, faults := Read(make([]byte, Largest+1), options())
	require.Len(t, faults, 1)
	assert.Contains(t, faults[0].Message, "larger than 16 MiB")
}

// The plans that are kept as what the program writes can be read, and written again they
// are the same to the byte: nothing that is written is lost in reading.
func TestGolden(t *testing.T) {
	files, err := filepath.Glob("../pages/testdata/*.json")
	require.NoError(t, err)
	again := 0
	for _, name := range files {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		if !strings.Contains(string(text), PlanSchema) || strings.Contains(string(text), VerifySchema) {
			continue
		}
		p, faults := Read(text, options())
		if p == nil {
			require.Len(t, faults, 1, faults.Text(name))
			assert.Contains(t, faults[0].Message, "it has no moves", name)
			continue
		}
		assert.True(t, p.Written)
		var out bytes.Buffer
		require.NoError(t, Write(&out, p.Plan))
		assert.Equal(t, string(text), out.String(), name)
		again++
	}
	assert.GreaterOrEqual(t, again, 7)
}
