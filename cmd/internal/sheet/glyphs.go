package sheet

import "leastmove/cmd/internal/glyphs"

// shown is a copy of a sheet with what the fonts lack replaced.
func shown(s *Sheet, c *glyphs.Cover) *Sheet {
	out := &Sheet{Title: c.Shown(s.Title), Source: c.Shown(s.Source), Plan: c.Shown(s.Plan)}
	for _, b := range s.Blocks {
		b.Heading = c.Shown(b.Heading)
		b.Fields, b.Text = mapped(b.Fields, c.Shown), mapped(b.Text, c.Shown)
		b.Ticks, b.Boxes = mapped(b.Ticks, c.Shown), mapped(b.Boxes, c.Shown)
		tables := b.Tables
		b.Tables = nil
		for _, t := range tables {
			rows := t.Rows
			t.Head, t.Rows = mapped(t.Head, c.Shown), nil
			for _, row := range rows {
				cells := make([]Cell, len(row))
				for i, k := range row {
					k.Text = c.Shown(k.Text)
					if k.Write != nil {
						k.Write = mapped(k.Write, c.Shown)
					}
					cells[i] = k
				}
				t.Rows = append(t.Rows, cells)
			}
			b.Tables = append(b.Tables, t)
		}
		out.Blocks = append(out.Blocks, b)
	}
	return out
}
