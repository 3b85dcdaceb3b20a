package main

import (
	"fmt"

	"leastmove/bolts"
	"leastmove/optimize"
	"leastmove/optimize/mip"
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
	problem *mip.Problem
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

// A source is the trains of a campaign.
type source struct {
	families []string // taken in turn
	seed     uint64   // first of each
}

// drawn is the n-th train.
func (c source) drawn(n int) (*subject, error) {
	k := len(c.families)
	return read(c.families[n%k], c.seed+uint64(n/k), "")
}

// apart keeps the seeds of mixed's own trains away from those of drawn.
const apart = 1_000_000

// mixed is drawn with every fifth train of the family "twelve", for parts that
// look at sizes.
func (c source) mixed(n int) (*subject, error) {
	if n%5 == 4 {
		return read("twelve", c.seed+apart+uint64(n/5), "")
	}
	return c.drawn(n - n/5)
}

// read reads a train; without a text it is the family's own.
func read(family string, seed uint64, text string) (*subject, error) {
	s := &subject{family: family, seed: seed, text: text}
	if text == "" {
		s.text = families.TOML(family, seed)
	}
	t, report := trainfile.Read(s.name(), []byte(s.text), trainfile.Options{ClearanceHole: bolts.ClearanceHole,
		Thread: bolts.Thread, Minor: bolts.Minor})
	if t == nil {
		return nil, fmt.Errorf("%s: %v", s.name(), report)
	}
	s.train, s.problem = t, optimize.Problem(t)
	return s, nil
}
