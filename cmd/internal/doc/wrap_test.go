package doc

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestWrap(t *testing.T) {
	assert.Equal(t, []string{"one two", "three"}, Wrap("one two three", 8))
	assert.Equal(t, []string{"abcd", "ef g"}, Wrap("abcdef g", 4), "a word that is too long is cut")
	assert.Equal(t, []string{""}, Wrap("", 4))
	assert.Equal(t, []string{"at least", "2.50 mm or", "so"}, Wrap("at least 2.50 mm or so", 12),
		"a number keeps its unit")
}
