package explore

import (
	"strings"
)

// An axis is what the sign of a number means: the words of the work order for + and for −.
type axis struct{ name, plus, minus string }

// axisOf is that of a field by its name, as of a reading: up and down or sideways; else it has none.
func axisOf(name string) axis {
	path := strings.Split(name, ".")
	for n := len(path) - 1; n >= max(0, len(path)-2); n-- {
		switch path[n] {
		case "v":
			return axis{"up and down", "high", "low"}
		case "h":
			return axis{"sideways", "left", "right"}
		}
	}
	return axis{}
}

// head is a heading of a column with the words of the axis in the place of those for + alone.
func (a axis) head(was string) string {
	if was == "gap" || strings.HasPrefix(was, "gap,") {
		return "shaft ends" + strings.TrimPrefix(was, "gap")
	}
	if a.name == "" {
		return was
	}
	for _, one := range []string{"up", "left"} {
		if rest, is := strings.CutPrefix(was, "offset "+one); is {
			return "offset " + a.name + rest
		}
		if rest, is := strings.CutPrefix(was, "angle "+one); is {
			return "angle " + a.name + rest
		}
		if rest, is := strings.CutPrefix(was, one); is {
			return a.name + rest
		}
	}
	return was
}

// example says how a number of the axis is typed.
func (a axis) example() string {
	if a.name == "" {
		return ""
	}
	return ", as 0.8 " + a.plus + ", 0.8 " + a.minus + " or -0.8"
}

// number is what was typed as the file would have it: a number with a sign, or one with a word of the axis before or
// after it, as the work order has it. false: it is no number.
func (a axis) number(typed string) (string, bool) {
	var sign string
	var rest []string
	for _, w := range strings.Fields(strings.ToLower(strings.ReplaceAll(typed, "−", "-"))) {
		w = strings.Trim(w, "():;") // as it stands on paper
		is := ""
		switch {
		case a.name == "" || w == "":
		case w == a.plus || w == "up" && a.plus == "high":
			is = "+"
		case w == a.minus || w == "down" && a.minus == "low":
			is = "-"
		case w == "slopes" && a.plus == "high", w == "points" && a.plus == "left":
			continue
		}
		switch {
		case is == "":
			rest = append(rest, w)
		case sign != "":
			return "", false
		default:
			sign = is
		}
	}
	text := strings.Join(rest, " ")
	if sign != "" && strings.HasPrefix(text, "-") || sign != "" && strings.HasPrefix(text, "+") {
		return "", false // a sign and a word: which of them is meant?
	}
	n, ok := number(text)
	if sign == "-" && ok {
		n = "-" + n
	}
	return n, ok
}
