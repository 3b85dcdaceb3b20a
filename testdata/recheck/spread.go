package recheck

import (
	"sync"
	"testing"
)

// A spread is the largest of each thing seen.
type Spread struct {
	sync.Mutex
	Most   map[string]float64
	Counts map[string]int
}

func NewSpread() *Spread { return &Spread{Most: map[string]float64{}, Counts: map[string]int{}} }

func (s *Spread) Add(what string, v float64) {
	s.Lock()
	defer s.Unlock()
	if old, ok := s.Most[what]; !ok || v > old {
		s.Most[what] = v
	}
	s.Counts[what]++
}

func (s *Spread) Count(what string) {
	s.Lock()
	defer s.Unlock()
	s.Counts[what]++
}

func (s *Spread) Log(t *testing.T) {
	t.Logf("counts: %v", s.Counts)
	for what, v := range s.Most {
		t.Logf("largest %s: %.3g", what, v)
	}
}
