package report

import (
	"html/template"
	"io"

	"leastmove/cmd/internal/verify"
)

// verifyPage is one file that needs no other and prints as it is shown: black on
// white, nothing that only a colour says.
const verifyPage = `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{{.Title}}: after the moves</title>
<style>
body { font: 15px/1.45 Georgia, "Times New Roman", serif; color: #000; background: #fff; max-width: 46rem; margin: 2rem auto; padding: 0 1rem; }
h1 { font-size: 1.4rem; margin: 0 0 .2rem; }
h2 { font-size: 1.1rem; margin: 1.8rem 0 .4rem; border-bottom: 1px solid #000; }
p { margin: .4rem 0; }
ul { margin: .4rem 0; padding-left: 1.2rem; }
.answer { border: 1.5px solid #000; padding: .4rem .8rem; margin: .8rem 0; }
.answer p:first-child { font-weight: bold; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; margin: .4rem 0 1rem; font-size: .92rem; font-variant-numeric: tabular-nums; }
td, th { padding: .12rem .9rem .12rem 0; text-align: left; vertical-align: top; }
th { border-bottom: 1px solid #000; }
tr.gap td { height: .5rem; }
@media print {
  body { margin: 0; max-width: none; font-size: 10.5pt; }
  h2 { break-after: avoid; }
  table, .answer, li { break-inside: avoid; }
  .wide { overflow-x: visible; break-before: avoid; }
}
</style>
</head>
<body>
<h1>{{.Title}}</h1>
<p>What was read after the moves, beside the plan.</p>
{{range $n, $b := .Blocks}}{{with $b.Heading}}<h2>{{.}}</h2>
{{end}}{{if eq $n 0}}<div class="answer">
{{end}}{{range $b.Words}}<p>{{.}}</p>
{{end}}{{if eq $n 0}}</div>
{{end}}{{if $b.Items}}<ul>
{{range $b.Items}}<li>{{.}}</li>
{{end}}</ul>
{{end}}{{range $b.Last}}<p>{{.}}</p>
{{end}}{{if $b.Rows}}<div class="wide"><table>
{{range $b.Rows}}{{if .Empty}}<tr class="gap"><td></td></tr>
{{else}}<tr>{{$head := .Head}}{{range .Cells}}{{if $head}}<th scope="col">{{.}}</th>{{else}}<td>{{.}}</td>{{end}}{{end}}</tr>
{{end}}{{end}}</table></div>
{{end}}{{end}}</body>
</html>
`

type htmlBlock struct {
	Heading            string
	Words, Items, Last []string
	Rows               []htmlRow
}

type htmlRow struct {
	Cells       []string
	Head, Empty bool
}

// VerifyHTML writes what became of the moves as a page to look at and to print.
func VerifyHTML(w io.Writer, r *verify.Result, layout Page) error {
	v := &verified{speaker: speakerOf(r.Train), r: r}
	page, err := template.New("verify").Parse(verifyPage)
	if err != nil {
		return err
	}
	var blocks []htmlBlock
	for _, b := range v.pieces(layout) {
		h := htmlBlock{Heading: b.heading, Words: b.words, Items: b.items}
		if b.small {
			h.Words, h.Last = nil, b.words
		}
		if b.table != nil {
			h.Rows = htmlRows(b.table)
		}
		blocks = append(blocks, h)
	}
	return page.Execute(w, struct {
		Title  string
		Blocks []htmlBlock
	}{v.title(), blocks})
}

// htmlRows are the rows of a table; the first one, and each after an empty one, is
// a header.
func htmlRows(g *grid) []htmlRow {
	var rows []htmlRow
	head := true
	for _, cells := range g.rows {
		empty := true
		for _, c := range cells {
			empty = empty && c == ""
		}
		rows = append(rows, htmlRow{cells, head, empty})
		head = empty
	}
	return rows
}
