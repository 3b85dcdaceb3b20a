package families_test

import (
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/families"
	"leastmove/train/trainfile"
)

// decode reads a drawn file the loose way, as plain TOML.
func decode(t *testing.T, family string, seed uint64) map[string]any {
	t.Helper()
	var file map[string]any
	_, err := toml.Decode(families.TOML(family, seed), &file)
	require.NoErrorf(t, err, "%s %d", family, seed)
	return file
}

func tables(v any) []map[string]any {
	list, _ := v.([]map[string]any)
	return list
}

func TestSameSeedSameText(t *testing.T) {
	for _, family := range families.Names() {
		assert.Equal(t, families.TOML(family, 7), families.TOML(family, 7), family)
		if family != "degenerate" { // it has few different trains
			assert.NotEqual(t, families.TOML(family, 7), families.TOML(family, 12), family)
		}
	}
}

func TestTrainsAreChains(t *testing.T) {
	for _, family := range families.Names() {
		for seed := range uint64(50) {
			file := decode(t, family, seed)
			assert.Contains(t, file["title"], "invented")
			machines, couplings := tables(file["machine"]), tables(file["coupling"])
			require.Len(t, couplings, len(machines)-1, "%s %d", family, seed)
			for i, c := range couplings {
				from, _, _ := strings.Cut(c["from"].(string), "/")
				to, _, _ := strings.Cut(c["to"].(string), "/")
				assert.Equal(t, machines[i]["name"], from)
				assert.Equal(t, machines[i+1]["name"], to)
			}
		}
	}
}

// A drawn file is one that a crew could have written: no fault in it.
func TestTrainsAreReadWithoutFault(t *testing.T) {
	for _, family := range families.Names() {
		for seed := range uint64(25) {
			_, faults := trainfile.Read(family, []byte(families.TOML(family, seed)), trainfile.Options{})
			for _, f := range faults {
				assert.NotEqualf(t, trainfile.Error, f.Severity, "%s %d:%d: %s", family, seed, f.Line, f.Message)
			}
		}
	}
}

// Every family shows what it is there for, or its tests would test nothing.
func TestFamiliesShowTheirFeature(t *testing.T) {
	for family, feature := range map[string]string{
		"plain":    "[coupling.wanted]",
		"spacer":   "flex =",
		"held":     "hold = true",
		"gear":     "roll = true",
		"nozzle":   "[[machine.nozzle]]",
		"gap":      "axial = true",
		"inch":     `units = "inch"`,
		"each":     "each_plane = true",
		"effort":   "effort = ",
		"two":      "hold = true",
		"bound":    "lower = ",
		"mirrored": "[[machine.shaft]]",
	} {
		found := 0
		for seed := range uint64(20) {
			if strings.Contains(families.TOML(family, seed), feature) {
				found++
			}
		}
		assert.GreaterOrEqual(t, found, 10, "%s: %s", family, feature)
	}
	for family, size := range map[string][2]int{"plain": {3, 5}, "long": {6, 8}, "twelve": {9, 12}, "two": {2, 2}} {
		for seed := range uint64(20) {
			n := len(tables(decode(t, family, seed)["machine"]))
			assert.GreaterOrEqual(t, n, size[0], family)
			assert.LessOrEqual(t, n, size[1], family)
		}
	}
}

// Seeds 4k+1, 4k+2 and 4k+3 are the train of seed 4k in a mirror, turned, and
// both: so the first and the last machine change places, or they don't.
func TestMirroredTrains(t *testing.T) {
	height := func(seed uint64) (first, last any) {
		machines := tables(decode(t, "mirrored", seed)["machine"])
		return machines[0]["height"], machines[len(machines)-1]["height"]
	}
	first, last := height(8)
	mirrorFirst, mirrorLast := height(9)
	turnedFirst, turnedLast := height(10)
	assert.Equal(t, []any{first, last}, []any{mirrorFirst, mirrorLast})
	assert.Equal(t, []any{first, last}, []any{turnedLast, turnedFirst})
	assert.NotEqual(t, first, last)
}
