package view

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"leastmove/testdata/trains"
)

// By hand, of a hole of 24 on a bolt of 20: 2 mm of play each way, so that a bolt with 0.2 mm left or less is near the
// edge, as is one of 62 mil with 0.2 mil left. A pack of which 0.3 of 6.3 mm of way may come out is near the base; a
// way up without a limit says nothing of that. Growth along of 1.9 takes the bolt there when hot, of 2.1 past the
// edge.
func TestFeetNearTheirEnds(t *testing.T) {
	const play = "bolt = 20\nhole = 24\n"
	for _, c := range []struct{ foot, growth, want string }{
		{play + "bolt_at = [0, 0.5]", "", ""},
		{play + "bolt_at = [0, 1.75]", "", ""},
		{play + "bolt_at = [0, 1.85]", "", "nearly bolt-bound to the right"},
		{play + "bolt_at = [0, -1.85]", "", "nearly bolt-bound to the left"},
		{play + "bolt_at = [0, -2]", "", "bolt-bound to the left"},
		{play + "bolt_at = [1.85, 0]", "", "nearly bolt-bound along the train"},
		{play + "bolt_at = [1.7, 0]\nfree = 0.2", "", "nearly bolt-bound along the train"},
		{"bolt = 20\nhole = 23.1496\nbolt_at = [0, 1.56972]", "", "nearly bolt-bound to the right"}, // 62 mil, 0.2 left
		{play, "v = 0.1\na = 1.5", ""},
		{play, "v = 0.1\na = 1.9", "nearly bolt-bound along the train when hot"},
		{play, "v = 0.1\na = 2.1", "bolt past its hole's edge when hot"},
		{"lower = 0.3\nraise = 6", "", "nearly base-bound"},
		{"lower = 0.8\nraise = 6", "", ""},
		{"lower = 0.3", "", ""},
		{"lower = 0\nraise = 6", "", "base-bound"},
		{"travel = { left = 0 }", "", "no travel to the left"},
	} {
		parts := strings.Split(trains.Alone, "[[machine.foot]]")
		parts[4] = strings.Replace(parts[4], "shim = 4\n", "shim = 4\n"+c.foot+"\n", 1)
		text := strings.Join(parts, "[[machine.foot]]")
		if c.growth != "" {
			text = strings.Replace(text, "[[coupling]]", "[[machine.growth]]\n"+c.growth+"\n[[coupling]]", 1)
		}
		check := CheckOf(trains.Read(t, "alone", text))
		got := map[string]bool{}
		for _, b := range check.Bound {
			assert.Equal(t, 1, b.Machine, c.foot)
			assert.GreaterOrEqual(t, b.Foot, 2, c.foot)
			got[strings.Join(check.Rooms[b.Machine][b.Foot].AtEnd(), " and ")] = true
		}
		if c.want == "" {
			assert.Empty(t, got, c.foot+c.growth)
			continue
		}
		assert.Equal(t, map[string]bool{c.want: true}, got, c.foot+c.growth)
	}
}
