package spelling

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// What garbles a terminal, breaks a line or turns the direction of what follows is not let through.
func TestPrintable(t *testing.T) {
	for given, want := range map[string]string{
		"":                    "",
		"pump 2 (spare), Ø 5": "pump 2 (spare), Ø 5",
		"a\tb\r\nc":           "a b  c",
		"a\u00a0b\u2028c":     "a b c",
		"red\x1b[31m\x00":     "red\ufffd[31m\ufffd",
		"left\u202eright":     "left\ufffdright",
		"\u200bx\ufeff":       "\ufffdx\ufffd",
		"می\u200cخواهم":       "می\u200cخواهم",
		"bad \xff byte":       "bad \ufffd byte",
	} {
		assert.Equal(t, want, Printable(given), "%q", given)
	}
}
