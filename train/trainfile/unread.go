package trainfile

import (
	"fmt"
	"strings"

	"leastmove/train/trainfile/tree"
)

// warnUnread warns of lines to be filled in (tree.ToRead) that nobody filled in. Where such a
// key must be stated there is a fault besides; a distance between shaft ends, a
// soft foot or what a point did when running would be missed by no one.
func (r *reader) warnUnread() {
	mark := strings.TrimSpace(tree.ToRead)
	first, width, n, at := 0, 0, 0, 0
	for line := range strings.Lines(r.source.text) {
		if bare := strings.TrimLeft(line, " \t"); strings.HasPrefix(bare, mark) {
			if n++; n == 1 {
				first = at + len(line) - len(bare)
				width = len(strings.TrimSpace(bare))
			}
		}
		at += len(line)
	}
	if n == 0 {
		return
	}
	message := "this line is still to be filled in, and counts for nothing"
	if n > 1 {
		message = fmt.Sprintf("this line and %d more like it are still to be filled in, and count for nothing", n-1)
	}
	r.warn(tree.Span{Start: first, End: first + width}, message,
		fmt.Sprintf("fill in what was read and take %q away, or take out the line", mark))
}
