// Package spelling is about words that people type: how a message shows them, and how far
// one is from another.
package spelling

import "strconv"

// Quote is a user's word in quotes, without control characters and not
// overlong.
func Quote(s string) string {
	const most = 60
	if r := []rune(s); len(r) > most {
		s = string(r[:most]) + "..."
	}
	return strconv.Quote(s)
}
