package spelling

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Counted by hand.
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"", "abc", 3}, {"abc", "abc", 0}, {"abc", "acb", 1}, {"kitten", "sitting", 3}, {"höhe", "hohe", 1},
	} {
		assert.Equal(t, c.want, Distance(c.a, c.b), c.a+" "+c.b)
		assert.Equal(t, c.want, Distance(c.b, c.a), c.b+" "+c.a)
	}
}
