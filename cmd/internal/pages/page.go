package pages

import "leastmove/cmd/internal/doc"

// A page is a document under way.
type page struct {
	doc.Builder
	width int // columns of text
}

// said is what some functions say on a page, as one section; nil where they say
// nothing. A table that nothing names is called by the heading.
func (p *page) said(say ...func()) []doc.Block {
	p.Builder = doc.Builder{}
	for _, do := range say {
		do()
	}
	blocks := p.Doc.Blocks
	if len(blocks) == 0 {
		return nil
	}
	s, headed := blocks[0].(*doc.Section)
	if !headed {
		s = &doc.Section{Blocks: blocks}
	}
	for _, b := range s.Blocks {
		if t, is := b.(*doc.Table); is && t.Caption == "" {
			t.Caption, t.Implied = s.Heading, true
		}
	}
	return []doc.Block{s}
}

// part is what stands under one heading of the contents; nil where there is nothing.
// Where only one section is in it, its heading is the part's.
func part(anchor, heading, mark string, groups ...[]doc.Block) []doc.Block {
	out, sections := &doc.Section{Anchor: anchor, Heading: heading, Mark: mark}, 0
	for _, group := range groups {
		for _, b := range group {
			if _, is := b.(*doc.Section); is {
				sections++
			}
		}
	}
	for _, group := range groups {
		for _, b := range group {
			if s, is := b.(*doc.Section); is && (sections == 1 || s.Heading == "") {
				out.Blocks = append(out.Blocks, s.Blocks...)
				continue
			}
			out.Blocks = append(out.Blocks, b)
		}
	}
	if len(out.Blocks) == 0 {
		return nil
	}
	return []doc.Block{out}
}

// notPrinted is a part that paper has elsewhere or not at all.
func notPrinted(part []doc.Block, where string) []doc.Block {
	for _, b := range part {
		b.(*doc.Section).Elsewhere = where
	}
	return part
}

// lead is sentences that head a part.
func lead(words ...string) []doc.Block {
	var out []doc.Block
	for _, w := range words {
		out = append(out, doc.Paragraph{Words: w})
	}
	return out
}

// or is blocks, or sentences where there are none.
func or(blocks []doc.Block, words string) []doc.Block {
	if blocks == nil {
		return lead(words)
	}
	return blocks
}

func blocksOf(figures []*doc.Figure) []doc.Block {
	var out []doc.Block
	for _, f := range figures {
		out = append(out, f)
	}
	return out
}
