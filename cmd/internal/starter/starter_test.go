package starter

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/bolts"
	"leastmove/optimize"
	"leastmove/optimize/ways"
	"leastmove/train"
	"leastmove/train/trainfile"
	"leastmove/train/trainfile/tree"
)

func options() trainfile.Options {
	return trainfile.Options{ClearanceHole: bolts.ClearanceHole, Thread: bolts.Thread, Minor: bolts.Minor}
}

// named are some machines; those called a gear are one.
func named(names ...string) []Machine {
	var out []Machine
	for _, name := range names {
		out = append(out, Machine{name, strings.HasPrefix(name, "gear")})
	}
	return out
}

// kinds is a list of one kind of readings, or of none.
func kinds(name string) []Readings {
	if name == "" {
		return nil
	}
	return []Readings{Readings(name)}
}

// filled is a starter with its lines to be read filled in, every blank with 0.
func filled(text string) string {
	return strings.NewReplacer(tree.ToRead, "", " = ,", " = 0.0,", " = }", " = 0.0 }").Replace(text)
}

// What is written can't be planned from as it is: nothing was read. Filled in it reads without
// a fault or a warning, and nothing needs to move: its placeholders are growth that is alike.
func TestWrite(t *testing.T) {
	many := []string{"motor", "gear"}
	for i := range Most - 2 {
		many = append(many, fmt.Sprint("pump ", i))
	}
	for _, machines := range [][]Machine{
		named("motor", "pump"), named("motor", "gear", "pump"), named("a", "gear 1", "b", "gear 2", "c"),
		named("gear", "pump"),
		named(many...),
	} {
		for _, u := range []train.Units{train.Millimetres, train.Inches} {
			for _, kind := range append(Kinds(), string(NoReadings)) {
				t.Run(fmt.Sprintf("%d %s %s", len(machines), u, kind), func(t *testing.T) {
					text := Write(Options{machines, u, kinds(kind)})
					empty, report := trainfile.Read("new", []byte(text), options())
					assert.Nil(t, empty, "nothing is planned from what nobody read")
					assert.Equal(t, len(machines)-1, report.Count(trainfile.Error), "%s", report)
					tr, report := trainfile.Read("new", []byte(filled(text)), options())
					require.Empty(t, report.String())
					require.Len(t, tr.Machines, len(machines))
					for i, m := range machines {
						assert.Equal(t, m.Name, tr.Machines[i].Name)
						assert.Len(t, tr.Machines[i].Shafts, map[bool]int{false: 1, true: 2}[m.Gear], m.Name)
					}
					assert.Equal(t, u, tr.Units)
					p, err := ways.Make(context.Background(), tr, optimize.Options{Brief: true})
					require.NoError(t, err)
					assert.Equal(t, optimize.Within, p.Status)
					assert.Empty(t, tr.Unstated(), "a chance can be given")
					lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
					if len(machines) <= 3 {
						assert.LessOrEqual(t, len(lines), 70)
					}
					for _, line := range lines {
						assert.LessOrEqual(t, len(line), 115, line)
					}
				})
			}
		}
	}
}

// Instruments of a kind are at every coupling, on the shafts that it joins.
func TestReadings(t *testing.T) {
	for kind, want := range map[Readings][]train.DialKind{
		Reverse: {train.RimDial, train.RimDial}, RimFace: {train.RimDial, train.FaceDial},
		Offsets: {train.OffsetDial, train.OffsetDial}, NoReadings: nil,
	} {
		text := filled(Write(Options{named("motor", "gear", "pump"), train.Millimetres, kinds(string(kind))}))
		tr, report := trainfile.Read("new", []byte(text), options())
		require.NotNil(t, tr, report)
		for _, c := range tr.Couplings {
			var kinds []train.DialKind
			for _, d := range c.Dials {
				kinds = append(kinds, d.Kind)
			}
			assert.Equal(t, want, kinds, "%s %s", kind, c.Name)
		}
	}
	text := Write(Options{named("motor", "gear", "pump"), train.Inches, []Readings{Reverse, RimFace}})
	tr, report := trainfile.Read("new", []byte(filled(text)), options())
	require.NotNil(t, tr, report)
	assert.Equal(t, train.RimDial, tr.Couplings[0].Dials[1].Kind)
	assert.Equal(t, train.FaceDial, tr.Couplings[1].Dials[1].Kind)
	assert.LessOrEqual(t, strings.Count(text, "\n"), 70)
	text = Write(Options{named("motor", "gear", "pump"), train.Millimetres, kinds("reverse")})
	for _, on := range []string{"motor", "gear/input", "gear/output", "pump"} {
		assert.Equal(t, 1, strings.Count(text, fmt.Sprintf("on = %q", on)), on)
	}
}

// A train that is read as the starter has it plans: here the pump sits high.
func TestFilledInPlans(t *testing.T) {
	text := Write(Options{named("motor", "gear", "pump"), train.Millimetres, kinds("reverse")})
	text = strings.Replace(text, "3 = , 6 = , 9 = }, sag = ", "3 = -0.2, 6 = -0.4, 9 = -0.2 }, sag = 0", 2)
	tr, report := trainfile.Read("new", []byte(filled(text)), options())
	require.NotNil(t, tr, report)
	p, err := ways.Make(context.Background(), tr, optimize.Options{Brief: true})
	require.NoError(t, err)
	assert.Equal(t, optimize.Planned, p.Status)
	assert.Positive(t, p.Total)
}

// A gear case is not rolled unasked: what lets it roll is behind a #, with what that does to the teeth.
func TestAGearIsNotRolledUnasked(t *testing.T) {
	text := Write(Options{named("motor", "gear", "pump"), train.Millimetres, kinds("offset")})
	remark := "# roll = true, level = { roll = 0.2 }: packs differ left and right; tooth contact turns"
	assert.Equal(t, 1, strings.Count(text, "roll"+remark[len("# roll"):]))
	for line := range strings.Lines(text) {
		key, _, _ := strings.Cut(line, "#")
		assert.NotContains(t, key, "roll ")
		assert.NotContains(t, key, "level")
	}
	live := strings.Replace(filled(text), remark, "\nroll = true\nlevel = { roll = 0.2 }", 1)
	tr, report := trainfile.Read("gear", []byte(live), trainfile.Options{})
	require.NotNil(t, tr, report.String())
	assert.True(t, tr.Machines[1].Roll)
	assert.InDelta(t, 0.2, tr.Machines[1].Level.Roll, 1e-12)
}
