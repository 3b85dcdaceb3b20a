package cli

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"leastmove/cmd/internal/starter"
	"leastmove/train"
	"leastmove/train/spelling"
)

// A trainAsked is what kind of train `new` is asked for, as the flags have it.
type trainAsked struct{ machines, gears, readings, units string }

// options are those of the starter.
func (a *trainAsked) options() (starter.Options, error) {
	var o starter.Options
	for _, kind := range byCommas(a.readings) {
		if !slices.Contains(starter.Kinds(), kind) {
			return o, noneOf("readings", kind, starter.Kinds(), strings.Join(starter.Kinds(), ", "))
		}
		o.Readings = append(o.Readings, starter.Readings(kind))
	}
	switch a.units {
	case train.Millimetres.String():
	case train.Inches.String():
		o.Units = train.Inches
	default:
		return o, fmt.Errorf("--units is %q: there are mm and inch", a.units)
	}
	names := byCommas(a.machines)
	if slices.Contains(names, "") {
		return o, errors.New("--machines has \"\": a machine has a name")
	}
	if n, err := strconv.Atoi(a.machines); err == nil {
		if n < 2 || n > starter.Most {
			return o, fmt.Errorf("--machines is %d: a train has 2 or more, and a starter at most %d", n, starter.Most)
		}
		names = make([]string, n)
	}
	if n := len(names); n < 2 || n > starter.Most {
		return o, fmt.Errorf("--machines has %d: a train has 2 or more, and a starter at most %d, like motor,gear,pump",
			n, starter.Most)
	}
	for _, name := range names {
		o.Machines = append(o.Machines, starter.Machine{Name: name, Gear: strings.Contains(strings.ToLower(name), "gear")})
	}
	for _, gear := range byCommas(a.gears) {
		n, err := strconv.Atoi(gear)
		if err != nil {
			n = slices.Index(names, gear) + 1
		}
		if n < 1 || n > len(names) {
			return o, fmt.Errorf("--gear has %q: name machines, or their numbers from 1 to %d, like 2,4", gear, len(names))
		}
		o.Machines[n-1].Gear = true
	}
	if n := len(o.Readings); n > 1 && n != len(names)-1 {
		return o, fmt.Errorf("--readings has %d: one for all couplings, or one for each of the %d, like %s", n, len(names)-1,
			strings.TrimSuffix(strings.Repeat("reverse,", len(names)-1), ","))
	}
	withNames(o.Machines)
	return o, namesFit(o.Machines)
}

// byCommas are those of a list with commas between them; none of an empty one.
func byCommas(list string) []string {
	var out []string
	for _, word := range strings.Split(list, ",") {
		if word = strings.TrimSpace(word); word != "" || list != "" {
			out = append(out, word)
		}
	}
	return out
}

// withNames gives names to machines that have none.
func withNames(machines []starter.Machine) {
	for i := range machines {
		m := &machines[i]
		switch {
		case m.Name != "":
		case i == 0 && !m.Gear:
			m.Name = "motor"
		case m.Gear:
			m.Name = fmt.Sprintf("gear %d", i+1)
		default:
			m.Name = fmt.Sprintf("machine %d", i+1)
		}
	}
}

// namesFit is the word on names that a train file can't have.
func namesFit(machines []starter.Machine) error {
	var names []string
	for _, m := range machines {
		odd := spelling.Printable(m.Name) != m.Name
		switch {
		case odd || strings.ContainsAny(m.Name, "/\"\\"):
			return fmt.Errorf("--machines has %q: a name has no strokes, quotes or what does not print", m.Name)
		case slices.Contains(names, m.Name):
			return fmt.Errorf("--machines has %q twice: machines have names of their own", m.Name)
		}
		names = append(names, m.Name)
	}
	return nil
}
