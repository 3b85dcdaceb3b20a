package main

import (
	"fmt"

	"leastmove/optimize"
	"leastmove/optimize/lattice"
	"leastmove/testdata/families"
	"leastmove/train"
	"leastmove/train/trainfile"
)

// aim is the share of the coupling limits that every train is asked to keep.
const aim = 0.7

// A subject is one train of the campaign.
type subject struct {
	family  string
	seed    uint64
	text    string
	train   *train.Train
	problem *lattice.Problem
}

func (s *subject) name() string { return fmt.Sprintf("%s-%d", s.family, s.seed) }

// class is the size class that results are listed by.
func (s *subject) class() string {
	if len(s.train.Machines) > 8 {
		return "9-12"
	}
	return "2-8"
}

var classes = [...]string{"2-8", "9-12"}

// drawn is the n-th train of a campaign: the families in turn.
func drawn(n int, seed uint64) (*subject, error) {
	names := families.Names()
	family := names[n%len(names)]
	return read(family, seed+uint64(n/len(names)), "")
}

// mixed is drawn with every fifth train of the family "twelve", for parts that
// look at sizes.
func mixed(n int, seed uint64) (*subject, error) {
	if n%5 == 4 {
		return read("twelve", seed+uint64(n/5), "")
	}
	return drawn(n-n/5, seed)
}

// read reads a train; without a text it is the family's own.
func read(family string, seed uint64, text string) (*subject, error) {
	s := &subject{family: family, seed: seed, text: text}
	if text == "" {
		s.text = families.TOML(family, seed)
	}
	t, report := trainfile.Read(s.name(), []byte(s.text), trainfile.Options{})
	if t == nil {
		return nil, fmt.Errorf("%s: %v", s.name(), report)
	}
	s.train, s.problem = t, optimize.Problem(t)
	return s, nil
}
