package pages

import (
	"math"

	"leastmove/cmd/internal/planjson"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// advise fills in what is beside a plan: what clashes and the ways out, what
// limits cost, packs, soft feet.
func (s formatter) advise(doc *planjson.Plan, p *view.Plan, layout Page) {
	for _, m := range p.Conflict {
		d := planjson.Member{Limit: s.limitDoc(m.Limit), Line: layout.line(s.placeOf(m.Limit))}
		if !math.IsNaN(m.Short) && !math.IsInf(m.Short, 0) {
			d.Short = s.LimitUp(m.Kind, m.Short)
		}
		doc.Clash = append(doc.Clash, d)
	}
	for _, r := range p.Relaxations {
		doc.Relief = append(doc.Relief, s.reliefDoc(r))
	}
	for _, w := range p.ShadowPrices {
		var feet []string
		for _, f := range w.Feet {
			feet = append(feet, s.Foot(w.Machine, f))
		}
		doc.Worth = append(doc.Worth, planjson.Worth{
			Feet:  feet,
			End:   planjson.End{Limit: s.limitDoc(w.Limit), Value: s.Limit(w.Kind, w.Value), Bound: s.Limit(w.Kind, w.Bound)},
			Price: s.LimitPrice(w.Kind, w.Price),
			By:    s.Limit(w.Kind, w.By), AtMost: s.Total(w.AtMost), Wider: s.Total(w.Wider), Closer: s.Total(w.Closer),
			NoCloser: math.IsInf(w.Closer, 1),
		})
	}
	for _, k := range p.Packs {
		doc.Packs = append(doc.Packs, planjson.Pieces{
			Machine: s.Machine(k.Machine), Foot: s.Foot(k.Machine, k.Foot),
			Now: s.pieceDocs(k.Now, k.Now != nil), Out: s.pieceDocs(k.Out, true), In: s.pieceDocs(k.In, true),
			Then: s.pieceDocs(k.Then, k.Then != nil),
		})
	}
	for _, h := range p.Shims {
		doc.Shims = append(doc.Shims, planjson.Shim{Thickness: s.Piece(h.Thickness), Count: h.Count})
	}
	for _, f := range p.Soft {
		doc.Soft = append(doc.Soft, planjson.Soft{Machine: s.Machine(f.Machine), Foot: s.Foot(f.Machine, f.Foot),
			Gap: s.Offset(f.Gap), Fill: s.Moved(f.Fill)})
	}
}

// pieceDocs are pieces of mm; null where they are not stated.
func (s formatter) pieceDocs(mm []float64, stated bool) []words.Number {
	if !stated {
		return nil
	}
	docs := []words.Number{}
	for _, v := range mm {
		docs = append(docs, s.Piece(v))
	}
	return docs
}

func (s formatter) restDoc(i int, r *view.Reading) *planjson.Rest {
	doc := planjson.Rest{Reading: s.readingDoc(r), Dials: s.targetDocs(&s.Train.Couplings[i], r)}
	c := &s.Train.Couplings[i]
	for _, u := range r.Uses {
		if u.Kind == view.Flex1 || u.Kind == view.Flex2 {
			doc.Flex = append(doc.Flex, planjson.Flex{X: s.Length(c.Flex[u.Kind-view.Flex1]), V: s.Angle(u.V), H: s.Angle(u.H)})
		}
	}
	return &doc
}

func (s formatter) reliefDoc(r view.Relaxation) planjson.Relief {
	return planjson.Relief{
		Kind: string(r.Kind), Text: s.advice(r), Edits: s.editDocs(r.Edits),
		Cost: costOf(r.Cost), Least: words.Floor(r.Least, 3), Total: s.Total(r.Total), Bound: s.Bound(r.Bound),
	}
}

// editDocs are the edits of a relief, those of both feet of a pair as one edit
// of the pair's table.
func (s formatter) editDocs(edits []view.Edit) []planjson.Edit {
	docs := []planjson.Edit{}
	for _, g := range s.editGroups(edits) {
		doc := planjson.Edit{Key: words.Clean(g.Key), From: s.from(g.Edit), To: s.to(g.Edit)}
		if ofSwitch(g.Key) {
			doc.From, doc.To = g.From != 0, g.To != 0
			if g.Shift != 0 {
				doc.Shift = s.Moved(g.Shift)
			}
		}
		if g.Coupling >= 0 {
			doc.Coupling = s.Coupling(g.Coupling)
		} else if g.Machine >= 0 {
			doc.Machine = s.Machine(g.Machine)
		}
		if g.feet == nil {
			docs = append(docs, doc)
			continue
		}
		for i := 0; i < len(g.feet); i++ {
			doc := doc
			doc.Foot = s.Foot(g.Machine, g.feet[i])
			if i+1 < len(g.feet) {
				if table, pair := s.Pair(g.Machine, g.feet[i], g.feet[i+1]); pair {
					doc.Foot = table
					i++
				}
			}
			docs = append(docs, doc)
		}
	}
	return docs
}
