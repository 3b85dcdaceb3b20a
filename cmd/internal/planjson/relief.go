package planjson

import (
	"math"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// A Member is a limit of a conflict.
type Member struct {
	Limit
	Short Number `json:"short,omitempty" about:"how much it alone would have to give" unit:"limit"`
	Line  int    `json:"line,omitempty" about:"line of the train file that states it"`
}

// A Relieved is the option that the planned train has.
type Relieved struct {
	Number int    `json:"number" about:"its number in the list of options, from 1"`
	Kind   string `json:"kind" about:"kind of change"`
	Text   string `json:"text" about:"what to do, in words"`
	Edits  []Edit `json:"edits" about:"the same as changes of the train file"`
}

// A Relief is an option: changes that make a plan possible.
type Relief struct {
	Kind  string `json:"kind" about:"kind of change"`
	Text  string `json:"text" about:"what to do, in words"`
	Edits []Edit `json:"edits" about:"the same as changes of the train file"`
	Cost  Number `json:"cost" about:"what it costs, by the costs that the options are ordered by" unit:"ratio"`
	Least Number `json:"least,omitempty" about:"cost before rounding to what a shop does" unit:"ratio"`
	Total Number `json:"total" about:"total of a plan that it makes possible" unit:"weighted"`
	Bound Number `json:"bound" about:"proven lower bound on that, rounded down" unit:"weighted"`
}

// An Edit is one change of a train file.
type Edit struct {
	Machine  string `json:"machine,omitempty" about:"machine whose table changes"`
	Foot     string `json:"foot,omitempty" about:"foot, or the table of a pair of feet"`
	Coupling string `json:"coupling,omitempty" about:"coupling whose table changes"`
	Key      string `json:"key" about:"key, with a dot for one of a table in it"`
	From     any    `json:"from" about:"number or switch in the file now" unit:"key"`
	To       any    `json:"to" about:"number or switch to be written there" unit:"key"`
	Shift    Number `json:"shift,omitempty" about:"move along in the option's plan, of axial" unit:"move"`
}

// beside fills in what is beside a plan: what is in conflict and the options, what
// limits cost, packs, soft feet.
func (w filler) beside(doc *Plan, p *view.Plan) {
	for _, m := range p.Conflict {
		d := Member{Limit: w.limit(m.Limit), Line: w.in.LineOf(view.PlaceOf(p.Train, m.Limit))}
		if !math.IsNaN(m.Short) && !math.IsInf(m.Short, 0) {
			d.Short = w.LimitUp(m.Kind, m.Short)
		}
		doc.Clash = append(doc.Clash, d)
	}
	for _, r := range p.Relaxations {
		doc.Relief = append(doc.Relief, w.relief(p, r))
	}
	for _, s := range p.ShadowPrices {
		doc.Worth = append(doc.Worth, Worth{
			Feet: w.Feet(s.Machine, s.Feet), End: w.end(s.Constraint), Price: w.LimitPrice(s.Kind, s.Price),
			By: w.Limit(s.Kind, s.By), AtMost: w.Total(s.AtMost), Wider: w.Total(s.Wider), Closer: w.Total(s.Closer),
			NoCloser: math.IsInf(s.Closer, 1),
		})
	}
	for _, k := range p.Packs {
		doc.Packs = append(doc.Packs, Pieces{
			Machine: w.Machine(k.Machine), Foot: w.Foot(k.Machine, k.Foot),
			Now: w.pieces(k.Now, k.Now != nil), Out: w.pieces(k.Out, true), In: w.pieces(k.In, true),
			Then: w.pieces(k.Then, k.Then != nil),
		})
	}
	for _, h := range p.Shims {
		doc.Shims = append(doc.Shims, Shim{Thickness: w.Piece(h.Thickness), Count: h.Count})
	}
	for _, f := range p.Soft {
		doc.Soft = append(doc.Soft, Soft{Machine: w.Machine(f.Machine), Foot: w.Foot(f.Machine, f.Foot),
			Gap: w.Offset(f.Gap), Fill: w.Moved(f.Fill)})
	}
}

// pieces are pieces of mm; null where they are not stated.
func (w filler) pieces(mm []float64, stated bool) []words.Number {
	if !stated {
		return nil
	}
	docs := []words.Number{}
	for _, v := range mm {
		docs = append(docs, w.Piece(v))
	}
	return docs
}

func (w filler) relief(p *view.Plan, r view.Relaxation) Relief {
	return Relief{
		Kind: string(r.Kind), Text: w.texts.Option(p, r), Edits: w.edits(r.Edits),
		Cost: words.Cost(r.Cost), Least: words.Floor(r.Least, 3), Total: w.Total(r.Total), Bound: w.Bound(r.Bound),
	}
}

// edits are the edits of an option, those of both feet of a pair as one edit
// of the pair's table.
func (w filler) edits(edits []view.Edit) []Edit {
	docs := []Edit{}
	for _, g := range view.Groups(edits) {
		doc := Edit{Key: words.Clean(g.Key), From: w.EditFrom(g.Key, g.From), To: w.EditTo(g.Key, g.To)}
		if g.Switch() {
			doc.From, doc.To = g.From != 0, g.To != 0
			if g.Shift != 0 {
				doc.Shift = w.Moved(g.Shift)
			}
		}
		if g.Coupling >= 0 {
			doc.Coupling = w.Coupling(g.Coupling)
		} else if g.Machine >= 0 {
			doc.Machine = w.Machine(g.Machine)
		}
		if g.Feet == nil {
			docs = append(docs, doc)
			continue
		}
		for i := 0; i < len(g.Feet); i++ {
			doc := doc
			doc.Foot = w.Foot(g.Machine, g.Feet[i])
			if i+1 < len(g.Feet) {
				if table, pair := w.Pair(g.Machine, g.Feet[i], g.Feet[i+1]); pair {
					doc.Foot = table
					i++
				}
			}
			docs = append(docs, doc)
		}
	}
	return docs
}
