package planfile

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// farthest is the largest move in mm that is believed.
const farthest = 100.0

// huge is the largest number of any other kind that is believed: a kilometre in
// mm, and more than any share of a limit.
const huge = 1e6

// moved is a move in mm; missing where it is not stated.
func (r *reader) moved(n *node, key string, missing float64) float64 {
	if v := n.fields[key]; v != nil && v.kind == null {
		r.fault(v.at, key+" is null", "write a number, 0 where nothing moves, or leave it out")
		return missing
	}
	v := r.number(n, key, r.move)
	if math.IsNaN(v) {
		return missing
	}
	if math.Abs(v) > farthest {
		r.fault(n.fields[key].at, fmt.Sprintf("%s is %s: no foot moves by more than %g mm", key, short(n.fields[key].text), farthest), "check the units of the plan")
	}
	return v
}

// number is one in a unit; NaN where it is not stated.
func (r *reader) number(n *node, key string, unit float64) float64 {
	v := n.fields[key]
	if v == nil || v.kind == null {
		return math.NaN()
	}
	if v.kind != number {
		r.fault(v.at, fmt.Sprintf("%s is %s, it must be a number", key, v.kind), "")
		return math.NaN()
	}
	if math.Abs(v.number) > huge {
		r.fault(v.at, fmt.Sprintf("%s is %s: that is no size that can be meant", key, short(v.text)), "")
		return math.NaN()
	}
	return v.number * unit
}

// words are a text; "" where it is not stated.
func (r *reader) words(n *node, key string) string {
	v := n.fields[key]
	switch {
	case v == nil:
		return ""
	case v.kind != text:
		r.fault(v.at, fmt.Sprintf("%s is %s, it must be a text", key, v.kind), "")
		return ""
	}
	return v.text
}

// name is what something is called, which it must be.
func (r *reader) name(n *node, what string) string {
	s := r.words(n, "name")
	if s == "" && (n.fields["name"] == nil || n.fields["name"].kind == text) {
		r.fault(n.at, what+" has no name", "write \"name\": \"...\" as in the train file")
	}
	return s
}

// object is one object; nil where there is none.
func (r *reader) object(n *node, key string) *node {
	v := n.fields[key]
	switch {
	case v == nil || v.kind == null:
		return nil
	case v.kind != object:
		r.fault(v.at, fmt.Sprintf("%s is %s, it must be an object { }", key, v.kind), "")
		return nil
	}
	return v
}

// objects are those of a list.
func (r *reader) objects(n *node, key string) []*node {
	v := n.fields[key]
	if v == nil {
		return nil
	}
	if v.kind != list {
		r.fault(v.at, fmt.Sprintf("%s is %s, it must be a list [ ]", key, v.kind), "")
		return nil
	}
	var out []*node
	for _, item := range v.list {
		if item.kind != object {
			r.fault(item.at, fmt.Sprintf("here stands %s, it must be an object { }", item.kind), "")
			continue
		}
		out = append(out, item)
	}
	return out
}

// known faults keys that nothing reads. A plan that the program wrote has more
// keys than these, so there only one that looks like a slip of a key that is
// missing is a fault.
func (r *reader) known(n *node, keys []string) {
	for _, key := range n.keys {
		if slices.Contains(keys, key) || len(r.report) >= mostFaults {
			continue
		}
		near := r.nearest(key, keys)
		if r.written && (near == "" || n.fields[near] != nil || programs(key)) {
			continue
		}
		hint := "known here: " + strings.Join(keys, ", ")
		if near != "" {
			hint = fmt.Sprintf("did you mean %q?", near)
		}
		r.fault(n.keyAt[key], "unknown key "+strconv.Quote(short(key)), hint)
	}
}

// programs says whether a key is one that the program writes beside those that
// are read.
func programs(key string) bool {
	switch key {
	case "sides", "total", "plain", "least", "bound", "gap", "peak", "use", "cut", "soft", "room", "limits", "level", "nozzles", "packs", "first", "worth", "ends", "clash":
		return true
	}
	return false
}

func (r *reader) nearest(word string, names []string) string {
	if r.options.Nearest == nil {
		return ""
	}
	return r.options.Nearest(word, names)
}
