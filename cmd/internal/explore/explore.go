// Package explore is a page in the browser on which a train is planned again and again: what
// if a machine stays, if a hole is opened, if less of a limit may be used.
//
// A case is a list of changes to a train file. Some of them are values set in the text of the
// file (train/trainfile/rewrite), the others are flags of `leastmove plan`, or a plan that was
// typed by hand. A case therefore is a train file and a command line, and what the page shows
// of it is what that command prints: both are one Question to one Program.
//
//	change ─▶ case ─▶ Question ─▶ Program.Plan ─▶ Answer ─▶ pages.First ─▶ fragment ─▶ browser
//	                     └──────▶ Program.Write ─▶ train file, plan, report, sheet
//
// The server is on the loopback address alone, and knows who asks by a token in the address.
// It sends one script and one style sheet of its own and works without the script.
package explore

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"io"

	"leastmove/cmd/internal/pages"
	"leastmove/cmd/internal/view"
	"leastmove/train"
	"leastmove/train/trainfile"
	"leastmove/train/trainfile/rewrite"
)

// A Program is what the commands do with a train file, or with a text that may become one.
type Program interface {
	// Name is that of the file, without its folder; Path is where it is.
	Name() string
	Path() string
	// Load is what is in the file now.
	Load() ([]byte, error)
	// Read takes a text for the train file.
	Read(text []byte) Source
	// Plan answers a question. tell is called with how far it is, first with the plan that is
	// known before others are looked for; neither after Plan has returned.
	Plan(ctx context.Context, q *Question, tell func(string), first func(*Answer)) (*Answer, error)
	// Write writes a result of a question: toml, json, html, txt, pdf (the work order) or released (the same, where the
	// engineer has decided on it).
	Write(ctx context.Context, w io.Writer, q *Question, what string) error
	// After sets what the crew read after a stage of a plan beside what it should read. read are
	// the readings, in the text that question has.
	After(ctx context.Context, q *Question, plan *view.Plan, stage int, read []rewrite.Setting) (*After, error)
	// Save puts a text into the file, whole or not at all, if the file is still as it was.
	Save(text, was []byte) error
}

// A Source is a text that was read as a train file.
type Source struct {
	Train  *train.Train // nil: it can't be used
	Report trainfile.Report
	Files  [sha256.Size]byte // of what is in the files that it names
}

// A Question is a train file and what is asked of it: leastmove plan FILE FLAGS.
type Question struct {
	Text  []byte
	Files [sha256.Size]byte // of what is in the files that it names
	Flags []string
	Plan  []byte // of --plan, JSON; nil: none
}

// A key tells questions apart.
type key [sha256.Size]byte

func (k key) String() string { return hex.EncodeToString(k[:]) }

func (q *Question) key() key {
	h := sha256.New()
	put := func(b []byte) {
		var n [8]byte
		binary.BigEndian.PutUint64(n[:], uint64(len(b)))
		h.Write(n[:])
		h.Write(b)
	}
	put(q.Text)
	put(q.Files[:])
	put(q.Plan)
	for _, f := range q.Flags {
		put([]byte(f))
	}
	return key(h.Sum(nil))
}

// An Answer is what the command prints, as a page has it.
type Answer struct {
	Plan     *view.Plan
	Replayed *view.Replayed // of moves that were given; nil: the plan was made
	Layout   pages.Page
	Refused  string   // why there is no plan: a word on the input; "": there is one
	Notes    []string // what the command says beside it
	SoFar    bool     // the search for it goes on: the best plan so far
	Stopped  bool     // it was stopped: what was known by then
}

// An After is what was read after a stage of the work.
type After struct {
	Stage    *view.StageCheck
	Verified *view.Verified
	Layout   pages.Page
	Text     []byte // the train file with the moves so far made, and these readings
	Refused  string // why there is nothing else; "": there is
}
