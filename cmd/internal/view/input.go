package view

import "leastmove/train"

// An Input is what is known of a train file beside the train in it.
type Input struct {
	Warnings []Warning       // what to check in it
	Held     []string        // machines held on the command line
	Freed    []string        // machines freed on the command line
	Line     func(Place) int // where a key stands in the train file; nil: not known
}

// A Warning is one thing to check in a train file, or in the file of bands.
type Warning struct {
	File          string // the file of bands; "": the train file
	Line, Column  int    // in it, from 1
	Message, Hint string // as the file has its names; Hint "": none
}

// A Place names a key of the train file: of a foot, a nozzle, a machine, a
// coupling, or of the whole train. Indices that do not apply are -1.
type Place struct {
	Machine, Foot, Nozzle, Coupling int
	Key                             string // as the file has it, with a dot for a nested one: "limit.angle"
}

// LineOf is where a key stands in the train file; 0 where that is not known.
func (in *Input) LineOf(at Place) int {
	if in.Line == nil {
		return 0
	}
	return in.Line(at)
}

// PlaceOf is the key of the train file that states a limit.
func PlaceOf(t *Train, l Limit) Place {
	info := l.Kind.Info()
	switch {
	case l.Kind == train.LimitStock && len(t.Shims.Stock) == 0:
		return Place{-1, -1, -1, -1, "shims.max_pieces"}
	case info.KeyOf == train.OfTrain:
		return Place{-1, -1, -1, -1, info.Key}
	case info.KeyOf == train.OfMachine: // also of a limit at its feet
		return Place{l.Machine, -1, -1, -1, info.Key}
	}
	return Place{l.Machine, l.Foot, l.Nozzle, l.Coupling, info.Key}
}
