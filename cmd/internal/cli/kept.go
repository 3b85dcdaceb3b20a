package cli

import (
	"crypto/sha256"
	"fmt"
	"io"
	"slices"
	"sync"

	"leastmove/cmd/internal/view"
	"leastmove/train"
)

// A Kept keeps trains and the plans that were found of them, for those who ask many questions
// of the same files in one process. The zero value keeps none yet; nil never does.
type Kept struct {
	pools view.Pools

	mu     sync.Mutex
	trains []keptTrain // the latest last
}

// A keptTrain is a train as it was first read, whatever its file is called.
type keptTrain struct {
	sum   [sha256.Size]byte // of all that it was read from
	train *train.Train
}

// mostTrains is how many trains are kept.
const mostTrains = 16

// Run is Run with what earlier runs found: they print what Run prints.
func (k *Kept) Run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	return streams{in: stdin, out: stdout, err: stderr, kept: k}.command(args)
}

// same is the train that was first read from what a source was read from.
func (k *Kept) same(src *source) *train.Train {
	all := sha256.New()
	parts := [][]byte{src.text, src.files[:]}
	if src.standard != nil {
		parts = append(parts, []byte(src.standard.Name), src.standard.Text)
	}
	for _, part := range parts {
		fmt.Fprintf(all, "%d ", len(part))
		all.Write(part)
	}
	sum := [sha256.Size]byte(all.Sum(nil))
	k.mu.Lock()
	defer k.mu.Unlock()
	if at := slices.IndexFunc(k.trains, func(x keptTrain) bool { return x.sum == sum }); at >= 0 {
		return k.trains[at].train
	}
	if len(k.trains) == mostTrains {
		k.trains = slices.Delete(k.trains, 0, 1)
	}
	k.trains = append(k.trains, keptTrain{sum, src.train})
	return src.train
}

// found are the pools of the trains; nil: none are kept.
func (k *Kept) found() *view.Pools {
	if k == nil {
		return nil
	}
	return &k.pools
}
