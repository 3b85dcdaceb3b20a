package optimize

import (
	"math"
	"slices"
	"strings"

	"leastmove/train"
)

// An opening is what is said of a foot or a machine where the train file states no limit of
// some kinds.
type opening struct {
	words string
	kinds []train.LimitKind
}

// openFeet and openMachines are in the order of what is said.
var (
	openFeet = []opening{
		{"no bolt or hole", []train.LimitKind{train.LimitBolt, train.LimitTravel}},
		{"no pack, and no limit on taking shims out", []train.LimitKind{train.LimitLower}},
		{"no limit on raising", []train.LimitKind{train.LimitRaise}},
	}
	openMachines = []opening{
		{"how far off level it may be", []train.LimitKind{train.LimitPitch, train.LimitRoll}},
	}
)

// open says whether none of the rows of a machine, or of a foot of it, states a limit of one
// of the kinds.
func (o *opening) open(rows []LimitRow, foot int) bool {
	return !slices.ContainsFunc(rows, func(r LimitRow) bool {
		return r.Foot == foot && r.Stated() && slices.Contains(o.kinds, r.Kind)
	})
}

// unstated lists what the file leaves open, in words: limits, growth and errors. The state
// is as found.
func unstated(t *train.Train, found *train.State) []string {
	var out []string
	if words := unmeasured(t); words != "" {
		out = append(out, words)
	}
	for _, u := range t.Unstated() {
		if u.Kind == train.UnstatedRun {
			out = append(out, t.ShaftName(train.End{Machine: u.Machine, Shaft: u.Shaft})+
				": journal shift from rest to running (run), taken as none")
		}
	}
	of := make([][]LimitRow, len(t.Machines))
	for _, r := range Limits(t, t.Stay(), found, 1) {
		if r.Machine >= 0 {
			of[r.Machine] = append(of[r.Machine], r)
		}
	}
	for i := range t.Machines {
		m, rows := &t.Machines[i], of[i]
		if m.Hold {
			continue
		}
		for _, o := range openFeet {
			var names []string
			for f := range m.Feet {
				if o.open(rows, f) {
					names = append(names, m.Feet[f].Name)
				}
			}
			switch {
			case len(names) == len(m.Feet) && len(names) > 0:
				out = append(out, m.Name+", every foot: "+o.words)
			case len(names) > 0:
				out = append(out, m.Name+" "+strings.Join(names, ", ")+": "+o.words)
			}
		}
		for _, o := range openMachines {
			if o.open(rows, -1) {
				out = append(out, m.Name+": "+o.words)
			}
		}
		if ways := unlevelled(&m.Level); len(ways) > 0 {
			out = append(out, m.Name+": how far off level it is as found ("+strings.Join(ways, ", ")+"), counted as level")
		}
		if len(m.Nozzles) == 0 && !m.IsBase() {
			out = append(out, m.Name+": whether pipes hold it, and how far they let it move")
		}
	}
	for i := range t.Machines {
		if words := ungrown(t, i); words != "" {
			out = append(out, t.Machines[i].Name+": "+words)
		}
	}
	for i := range t.Machines {
		if words := unslid(t, i); words != "" {
			out = append(out, t.Machines[i].Name+": "+words)
		}
	}
	for i := range t.Couplings {
		if c := &t.Couplings[i]; !c.GapLimited() {
			out = append(out, c.Name+": distance between shaft ends")
		}
	}
	if t.Errors == (train.Errors{}) {
		out = append(out, "how good the readings and the growth are ([errors])")
	} else if words := unstatedErrors(t.Errors.Assumed); len(words) > 0 {
		out = append(out, "[errors] "+strings.Join(words, ", ")+" (defaults taken)")
	}
	return out
}

// unstatedErrors names the errors that the file leaves to their defaults.
func unstatedErrors(e train.AssumedErrors) []string {
	var out []string
	for _, one := range []struct {
		left bool
		name string
	}{
		{e.Offset, "offset"},
		{e.Angle, "angle"},
		{e.Placing, "placing"},
		{e.Growth, "growth"},
		{e.GrowthLeast, "growth_least"},
	} {
		if one.left {
			out = append(out, one.name)
		}
	}
	return out
}

// unslid says what is not known of how machine i's feet slide in their holes as it grows; "" where nothing is.
func unslid(t *train.Train, i int) string {
	m := &t.Machines[i]
	if m.Hold || !slices.ContainsFunc(m.Feet, func(f train.Foot) bool { return f.HoleKnown() }) {
		return ""
	}
	var ways []string
	along, sideways := t.SlideUnknown(i)
	if along {
		ways = append(ways, "along the train (a)")
	}
	if sideways {
		ways = append(ways, "sideways (rise)")
	}
	if ways == nil {
		return ""
	}
	return "how far its feet slide hot, " + strings.Join(ways, " and ") + ", taken as none"
}

// unmeasured says, once for the train, at which machines that may be moved soft foot is not stated at every foot;
// "" where it is.
func unmeasured(t *train.Train) string {
	var names []string
	of := 0
	for i := range t.Machines {
		m := &t.Machines[i]
		if m.Hold || len(m.Feet) == 0 {
			continue
		}
		of++
		if slices.ContainsFunc(m.Feet, func(f train.Foot) bool { return f.SoftUnknown }) {
			names = append(names, m.Name)
		}
	}
	switch {
	case names == nil:
		return ""
	case len(names) == of:
		return "soft foot at the feet (soft), counted as none"
	}
	return "soft foot at the feet of " + strings.Join(names, ", ") + " (soft), counted as none"
}

// unlevelled are the ways from level that are limited, and how the machine was found there is not stated.
func unlevelled(l *train.Level) []string {
	var out []string
	if l.PitchUnknown && !math.IsInf(l.Pitch, 1) {
		out = append(out, "pitch")
	}
	if l.RollUnknown && !math.IsInf(l.Roll, 1) {
		out = append(out, "roll")
	}
	return out
}

// ungrown says what of machine i's growth is taken as none for want of a word;
// "" where nothing is.
func ungrown(t *train.Train, i int) string {
	m := &t.Machines[i]
	for _, s := range m.Shafts {
		if s.Growth != nil {
			return ""
		}
	}
	if growthMissing(m) {
		return "growth from cold to running, taken as none"
	}
	for k := range t.Couplings {
		c := &t.Couplings[k]
		if m.Growth.AxialUnknown && c.GapLimited() && (c.From.Machine == i || c.To.Machine == i) {
			return "growth along the train (a), taken as none"
		}
	}
	return ""
}
