package tree

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Divided by hand.
func TestDecimal(t *testing.T) {
	for text, want := range map[string]string{
		"1,0625": "1.0625", "-0,5": "-0.5", "1 5/32": "1.15625", "1-1/8": "1.125", "-3/4": "-0.75", "1/64": "0.015625",
		"2/3": "0.666667",
		"1":   "", "1,5,2": "", "1/0": "", "a/2": "", "1 5": "", "": "",
	} {
		assert.Equal(t, want, Decimal(text), text)
	}
}
