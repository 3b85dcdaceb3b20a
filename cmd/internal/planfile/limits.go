package planfile

import "math"

// A Limit is what the plan takes up of one limit of a foot.
type Limit struct {
	Kind         string  // "lower", "raise", "bolt", "travel"
	Value, Limit float64 // mm
}

// Limit is that of a kind; Value and Limit are NaN where the plan does not have it.
func (f *Foot) Limit(kind string) Limit {
	for _, l := range f.Limits {
		if l.Kind == kind {
			return l
		}
	}
	return Limit{kind, math.NaN(), math.NaN()}
}

// A Nozzle is what the plan takes up of what a nozzle may be displaced.
type Nozzle struct {
	Name         string
	Value, Limit float64 // mm
}

// A Level is how far off level the plan leaves a machine; NaN: it does not say.
type Level struct{ Pitch, Roll float64 } // mrad

// NozzleLimit is the limit in mm that a nozzle had when the plan was made; NaN where the
// plan does not say.
func (m *Machine) NozzleLimit(name string) float64 {
	for _, n := range m.Nozzles {
		if n.Name == name {
			return n.Limit
		}
	}
	return math.NaN()
}

// A Pieced is the pack of one foot, shim by shim.
type Pieced struct {
	Machine, Foot string
	Then          []float64 // mm, after the moves, from the base up; nil: not stated
}

// ThenUnder are the pieces of the pack under a foot after the moves, in mm, from the base
// up; false where the plan does not list them.
func (p *Plan) ThenUnder(machine, foot string) ([]float64, bool) {
	for _, k := range p.Packs {
		if k.Machine == machine && k.Foot == foot && k.Then != nil {
			return k.Then, true
		}
	}
	return nil, false
}

func (r *reader) limits(n *node) []Limit {
	var out []Limit
	for _, l := range r.objects(n, "limits") {
		out = append(out, Limit{r.words(l, "kind"), r.number(l, "value", r.move), r.number(l, "limit", r.move)})
	}
	return out
}

func (r *reader) nozzles(n *node) []Nozzle {
	var out []Nozzle
	for _, z := range r.objects(n, "nozzles") {
		out = append(out, Nozzle{r.words(z, "name"), r.number(z, "value", r.move), r.number(z, "limit", r.move)})
	}
	return out
}

func (r *reader) level(n *node) Level {
	l := unlevelled()
	if level := r.object(n, "level"); level != nil {
		for _, way := range []struct {
			key string
			v   *float64
		}{{"pitch", &l.Pitch}, {"roll", &l.Roll}} {
			key, v := way.key, way.v
			if part := r.object(level, key); part != nil {
				*v = r.number(part, "value", 1)
			}
		}
	}
	return l
}

// unlevelled is a level that the plan does not state.
func unlevelled() Level { return Level{math.NaN(), math.NaN()} }

func (r *reader) packs(root *node) []Pieced {
	var out []Pieced
	for _, n := range r.objects(root, "packs") {
		k := Pieced{Machine: r.words(n, "machine"), Foot: r.words(n, "foot")}
		if then := n.fields["then"]; then != nil && then.kind == list {
			k.Then = []float64{}
			for _, piece := range then.list {
				what := short(piece.text)
				if piece.kind != number {
					what = piece.kind.String()
				}
				if piece.kind != number || !(piece.number > 0 && piece.number*r.move <= thickest) {
					r.fault(piece.at, "here stands "+what+", no thickness of a shim", "check the units of the plan")
					continue
				}
				k.Then = append(k.Then, piece.number*r.move)
			}
		}
		out = append(out, k)
	}
	return out
}

// thickest is the thickest shim in mm that is believed.
const thickest = 300.0
