package doc

import "strings"

// wideTable is the number of columns from which on a table may not fit a phone, so
// that the keyboard must be able to move it.
const wideTable = 5

// broadTable is the number of columns from which on a table takes all of a sheet's width.
const broadTable = 9

// shortTable is the number of rows up to which a table stays on one sheet of paper.
const shortTable = 12

func (h *html) table(t *Table) {
	h.put("<div%s", class("roll", when(t.Same && !h.paper, "same"), when(t.Screen && !h.paper, "screen"),
		when((t.Broad || len(t.Columns) >= broadTable) && !h.paper, "broad")))
	if len(t.Columns) >= wideTable {
		h.put(" tabindex=\"0\" role=\"region\" aria-label=\"table: %s\"", escaped(Bare(either(t.Caption, t.Columns[0].Head))))
	}
	h.put(">\n<table%s>\n", class(when(len(t.Rows) <= shortTable && !h.paper, "whole")))
	if t.Caption != "" {
		h.put("<caption%s>%s</caption>\n", class(when(t.Implied || t.Same && !h.paper, "unseen")), h.words(t.Caption))
	}
	if !t.Bare || !h.paper {
		h.put("<thead><tr>")
		for _, c := range t.Columns {
			if c.Head == "" {
				h.put("<td></td>")
			} else {
				h.put("<th scope=\"col\"%s>%s</th>", class(when(c.Number, "right")), h.words(c.Head))
			}
		}
		h.put("</tr></thead>\n")
	}
	h.put("<tbody>\n")
	for _, row := range t.Rows {
		h.put("<tr>")
		for n, c := range row {
			h.cell(t, n, c)
		}
		h.put("</tr>\n")
	}
	h.put("</tbody>\n</table>\n</div>\n")
}

func (h *html) cell(t *Table, column int, c Cell) {
	tag, open := "td", "td"
	if column < t.names() {
		tag, open = "th", `th scope="row"`
	}
	if head := t.Columns[column].Head; head != "" && len(t.Columns) >= wideTable && !(t.Bare && h.paper) {
		open += ` data-head="` + escaped(Bare(head)) + `"` // on a phone, where the row is laid out by itself
	}
	if c.Write != nil {
		h.put("<%s class=\"write\">", open)
		for _, label := range c.Write {
			h.put("<span>%s</span>", h.words(label))
		}
		h.put("</%s>", tag)
		return
	}
	text := h.words(t.line(c))
	if c.Bold {
		text = "<b>" + text + "</b>"
	}
	h.put("<%s%s>%s</%s>", open, class(when(t.Columns[column].Number, "right"), when(h.paper && short(c.Text), "short")),
		text, tag)
}

// class is the attribute of the names that are there.
func class(names ...string) string {
	all := strings.Join(strings.Fields(strings.Join(names, " ")), " ")
	if all == "" {
		return ""
	}
	return ` class="` + all + `"`
}

// when is a name where something holds.
func when(holds bool, name string) string {
	if holds {
		return name
	}
	return ""
}
