package pages

import (
	"fmt"
	"math"
	"strings"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// edit is one change in words.
func (s formatter) edit(g view.EditGroup) string {
	from, to := s.EditFrom(g.Key, g.From).Short(), s.EditTo(g.Key, g.To).Short()
	if g.Coupling >= 0 {
		return fmt.Sprintf("%s from %s to %s %s", limited(g.Key), from, to, s.EditUnit(g.Key))
	}
	machine := s.Machine(g.Machine)
	at := machine
	if g.Feet != nil {
		at += " " + s.FeetOf(g.Machine, g.Feet)
	}
	by := s.AsRead(g.To-g.From, s.MoveDecimals)
	several := len(g.Feet) > 1
	switch g.Key {
	case "hole":
		noun := "hole"
		if several {
			noun = "holes"
		}
		if g.From == g.To {
			return fmt.Sprintf("state the %s of %s as the %s %s there: fit no longer speaks for the bolt", noun, at, to,
				s.LengthUnit())
		}
		return fmt.Sprintf("open the %s of %s from %s to %s %s", noun, at, from, to, s.LengthUnit())
	case "bolt":
		noun := "bolt"
		if several {
			noun = "bolts"
		}
		return fmt.Sprintf("turn the shank of the %s of %s down from %s to %s %s", noun, at, from, to, s.LengthUnit())
	case "cut":
		return fmt.Sprintf("make %s of room under %s", words.With(by, s.MoveUnit()), at)
	case "lower":
		return fmt.Sprintf("let %s of shims come out at %s in place of %s", to+" "+s.MoveUnit(), at, from)
	case "raise":
		return fmt.Sprintf("make it possible to raise %s by up to %s in place of %s", at, to+" "+s.MoveUnit(), from)
	case "axial":
		if g.Shift == 0 {
			return fmt.Sprintf("let %s be shifted along the train", at)
		}
		return fmt.Sprintf("let %s be shifted along the train, by %s in that plan", at,
			words.With(s.Moved(math.Abs(g.Shift)), s.MoveUnit()))
	case "roll":
		return fmt.Sprintf("let the left and right shim packs of %s differ", at)
	case "hold":
		return fmt.Sprintf("release %s, which is held", at)
	}
	return fmt.Sprintf("change %s of %s from %s to %s", words.Clean(g.Key), at, from, to)
}

// limited is what the limit of a coupling speaks of, by its key.
func limited(key string) string {
	what := words.Clean(strings.TrimPrefix(key, "limit."))
	if what == "gap" {
		return words.LimitName(view.LimitGap)
	}
	return what
}

func editPlaces(edits []view.Edit) []view.Place {
	var places []view.Place
	for _, e := range edits {
		places = append(places, view.Place{Machine: e.Machine, Foot: e.Foot, Nozzle: -1, Coupling: e.Coupling, Key: e.Key})
	}
	return places
}
