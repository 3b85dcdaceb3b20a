package trainfile

import (
	"os"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/train"
)

// Every key is described, and has a range where it is a number.
func TestTablesAreWhole(t *testing.T) {
	headers := map[string]bool{}
	for _, table := range Tables() {
		require.NotNil(t, table)
		headers[table.Header] = true
		assert.NotEmpty(t, table.Doc, table.Header)
		names := map[string]bool{}
		for _, k := range table.Keys {
			at := table.Header + " " + k.Name
			assert.False(t, names[k.Name], "%s is there twice", at)
			names[k.Name] = true
			assert.NotEmpty(t, k.Doc, at)
			switch k.Kind {
			case Number, Count, Pair, Numbers, Shares, Clock, Sweep:
				assert.Less(t, k.Range.Min, k.Range.Max, at)
				assert.NotEmpty(t, k.Allowed(train.Inches), at)
			case Word:
				assert.NotEmpty(t, k.Words, at)
			case Sub, Subs:
				require.NotNil(t, k.Table, at)
			}
			if k.Required {
				assert.Empty(t, k.Default[0], at)
			}
		}
	}
	assert.True(t, headers["[[machine.foot]]"])
}

// testdata/whole.toml, which the other tests look into, gives every key that
// there is, but for those that stand in place of another.
func TestWholeFileHasEveryKey(t *testing.T) {
	src, err := os.ReadFile("testdata/whole.toml")
	require.NoError(t, err)
	instead := map[string]bool{"fit": true, "file": true, "published": true}
	for _, table := range Tables() {
		for _, k := range table.Keys {
			if instead[k.Name] {
				continue
			}
			given := regexp.MustCompile(`\b` + k.Name + `\s*=|\b` + k.Name + `\]`)
			assert.True(t, given.Match(src), "%s %s", table.Header, k.Name)
		}
	}
}

func TestAllowed(t *testing.T) {
	for _, c := range []struct {
		key  Key
		u    train.Units
		want string
	}{
		{Key{Unit: Length, Range: Range{Max: 300, Over: true}}, train.Millimetres, "over 0 and at most 300 mm"},
		{Key{Unit: Length, Range: Range{Max: 300, Over: true}}, train.Inches, "over 0 and at most 11.811 inch"},
		{Key{Unit: Move, Range: Range{Min: -1, Max: 2.54}}, train.Inches, "from -39.37 to 100 mil"},
		{Key{Unit: Warmth, Range: Range{Min: 0, Max: 100}}, train.Inches, "from 0 to 180 °F"},
		{Key{Range: Range{Max: 1.5}}, train.Millimetres, "from 0 to 1.5"},
		{Key{Kind: Word, Words: []string{"a", "b"}}, train.Millimetres, `one of "a", "b"`},
		{Key{Kind: Switch}, train.Millimetres, ""},
	} {
		assert.Equal(t, c.want, c.key.Allowed(c.u))
	}
}

func TestNearest(t *testing.T) {
	for _, c := range []struct{ why, word, want string }{
		{"two letters swapped", "hieght", "height"},
		{"a capital", "Height", "height"},
		{"a letter too few", "heigt", "height"},
		{"a letter too many", "rpmm", "rpm"},
		{"another word", "weight", "height"},
		{"nothing like it", "colour", ""},
		{"too short to tell", "q", ""},
		{"empty", "", ""},
	} {
		r := &reader{}
		assert.Equal(t, c.want, r.nearest(c.word, []string{"rpm", "height", "hold"}), c.why)
	}
}
