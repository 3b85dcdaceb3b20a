package pages

import (
	"fmt"
	"math"
	"strings"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// An editGroup is one edit, at all feet of a machine where it is the same.
type editGroup struct {
	view.Edit
	feet []int
}

func (s formatter) editGroups(edits []view.Edit) []editGroup {
	var groups []editGroup
next:
	for _, e := range edits {
		for i := range groups {
			g := &groups[i]
			if e.Foot >= 0 && g.Machine == e.Machine && g.Key == e.Key && s.from(g.Edit) == s.from(e) &&
				s.to(g.Edit) == s.to(e) {
				g.feet = append(g.feet, e.Foot)
				continue next
			}
		}
		g := editGroup{Edit: e}
		if e.Foot >= 0 {
			g.feet = []int{e.Foot}
		}
		groups = append(groups, g)
	}
	return groups
}

// edit is one change in words.
func (s formatter) edit(g editGroup) string {
	from, to := s.from(g.Edit).Short(), s.to(g.Edit).Short()
	if g.Coupling >= 0 {
		return fmt.Sprintf("%s from %s to %s %s", limited(g.Key), from, to, s.editUnit(g.Key))
	}
	machine := s.Machine(g.Machine)
	at := machine
	if g.feet != nil {
		at += " " + s.FeetOf(g.Machine, g.feet)
	}
	by := words.Fixed((g.To-g.From)/s.Units.Move(), words.Decimals((g.To-g.From)/s.Units.Move(), s.MoveDecimals,
		words.MostDecimals))
	several := len(g.feet) > 1
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

// from and to are the values of an edit in the units of the train file; a
// limit is rounded to where the plan still fits.
func (s formatter) from(e view.Edit) words.Number { return s.editValue(e.Key, e.From, words.Fixed) }

func (s formatter) to(e view.Edit) words.Number {
	if e.Key == "bolt" {
		return s.editValue(e.Key, e.To, words.Floor)
	}
	return s.editValue(e.Key, e.To, words.Ceil)
}

func (s formatter) editValue(key string, v float64, round func(float64, int) words.Number) words.Number {
	switch s.editUnit(key) {
	case s.LengthUnit():
		if lengthKey(key) {
			return round(v/s.Units.Length(), words.MostDecimals)
		}
	case "mrad":
		return round(v, words.MostDecimals)
	}
	return round(v/s.Units.Move(), words.MostDecimals)
}

// lengthKey says whether a key of the train file is a length, and no move.
func lengthKey(key string) bool { return key == "hole" || key == "bolt" || key == "limit.gap" }

// editUnit is the unit of a key of the train file.
func (s formatter) editUnit(key string) string {
	switch {
	case lengthKey(key):
		return s.LengthUnit()
	case key == "limit.angle":
		return "mrad"
	}
	return s.MoveUnit()
}

// ofSwitch says whether a key is true or false.
func ofSwitch(key string) bool { return key == "axial" || key == "roll" || key == "hold" }

func editPlaces(edits []view.Edit) []Place {
	var places []Place
	for _, e := range edits {
		places = append(places, Place{e.Machine, e.Foot, -1, e.Coupling, e.Key})
	}
	return places
}
