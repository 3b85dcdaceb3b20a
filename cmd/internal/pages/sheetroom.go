package pages

import (
	"fmt"

	"leastmove/cmd/internal/view"
)

// sideRoom is what is left to a foot beyond its side move where that is little, with
// what it then meets; "" where there is plenty.
func (t *order) sideRoom(room view.Room) string {
	meets := "of its travel"
	if room.ByHole {
		meets = "to the bolt"
	}
	if words := t.little(room, meets); words != "" {
		return ", then " + words
	}
	return ""
}

// packRoom is what is left to a pack beyond its change where that is little.
func (t *order) packRoom(room view.Room) string {
	if words := t.little(room, "to go"); words != "" {
		return ", " + words
	}
	return ""
}

// little says what is left where it is little.
func (t *order) little(room view.Room, words string) string {
	if !room.Little {
		return ""
	}
	n := t.Left(room.Left)
	if n.Zero() {
		return "no more"
	}
	return fmt.Sprintf("%s %s", n, words)
}
