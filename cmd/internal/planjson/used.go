package planjson

import (
	"math"

	"leastmove/train"
)

// UpOf and LeftOf are the moves of a foot in mm, + up and + left; 0 where they are not
// stated.
func (p *File) UpOf(f *Foot) float64   { return p.move0(f.Up) }
func (p *File) LeftOf(f *Foot) float64 { return p.move0(f.Left) }

// PackChangeOf is what becomes of the shim pack under a foot; Now and Then are NaN, and all
// but Move is 0, where no pack is stated.
func (p *File) PackChangeOf(f *Foot) train.PackChange {
	c := train.PackChange{Now: math.NaN(), Move: p.UpOf(f), Then: math.NaN()}
	if f.Pack != nil {
		c.Now, c.Then, c.Fill, c.Cut = p.Move(f.Pack.Now), p.Move(f.Pack.Then), p.move0(f.Fill), p.move0(f.Cut)
	}
	return c
}

// UsedOf is what the plan uses of the limit of a kind at a foot, and that limit, in mm; NaN
// where the plan does not have it.
func (p *File) UsedOf(f *Foot, kind string) (value, limit float64) {
	for _, l := range f.Limits {
		if l.Kind == kind {
			return p.Move(l.Value), p.Move(l.Limit)
		}
	}
	return math.NaN(), math.NaN()
}

// NozzleLimit is the limit in mm that a nozzle had when the plan was made; NaN where the
// plan does not say.
func (p *File) NozzleLimit(m *Machine, name string) float64 {
	for _, n := range m.Nozzles {
		if n.Name == name {
			return p.Move(n.Limit)
		}
	}
	return math.NaN()
}

// LevelOf is how far off level in mrad the plan leaves a machine, + pitch lowers what lies
// further along and + roll raises the left side; NaN where it does not say.
func LevelOf(m *Machine) (pitch, roll float64) {
	if m.Level == nil {
		return math.NaN(), math.NaN()
	}
	return Value(m.Level.Pitch.Value), Value(m.Level.Roll.Value)
}

// ThenUnder are the pieces of the pack under a foot after the moves, in mm, from the base
// up; false where the plan does not list them.
func (p *File) ThenUnder(machine, foot string) ([]float64, bool) {
	for _, k := range p.Packs {
		if k.Machine == machine && k.Foot == foot && k.Then != nil {
			return p.mm(k.Then, p.Move), true
		}
	}
	return nil, false
}

// FlexOf are the train stations of a coupling's flex planes in mm.
func (p *File) FlexOf(c *Coupling) []float64 { return p.mm(c.Flex, p.Length) }

func (p *File) mm(numbers []Number, by func(Number) float64) []float64 {
	out := []float64{}
	for _, n := range numbers {
		out = append(out, by(n))
	}
	return out
}
