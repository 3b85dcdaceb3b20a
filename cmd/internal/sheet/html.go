package sheet

import (
	"html/template"
	"io"
)

// HTML writes the sheet as a page that stands on its own and prints on the
// paper.
func (s *Sheet) HTML(w io.Writer, p Paper) error {
	t, err := template.New("sheet").Parse(page)
	if err != nil {
		return err
	}
	return t.Execute(w, struct {
		*Sheet
		Paper string
	}{s, p.name()})
}

const page = `{{define "fields"}}{{if .}}<div class="fields">{{range .}}<span>{{.}}<i></i></span>{{end}}</div>
{{end}}{{end}}<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>Work order: {{.Title}}</title>
<style>
@page { size: {{.Paper}}; margin: 8mm 9mm 10mm; @bottom-right { content: counter(page) " of " counter(pages); font: 9pt sans-serif } }
body { font: 10.5pt/1.2 "Liberation Sans", Arial, Helvetica, sans-serif; color: #000; background: #fff; max-width: 196mm; margin: 0 auto; overflow-wrap: anywhere }
h1 { font-size: 15pt; margin: 0 0 1mm }
h2 { font-size: 12pt; margin: 0; flex: 1 1 90mm }
.top { display: flex; flex-wrap: wrap; border-top: 0.4mm solid #000; padding-top: 0.5mm }
section { margin: 0 0 1.5mm; break-inside: avoid }
p { margin: 0 0 0.6mm }
ul { list-style: none; margin: 0 0 0.6mm; padding: 0 }
li { padding-left: 6mm; text-indent: -6mm }
li::before { content: ""; display: inline-block; width: 3mm; height: 3mm; border: 0.3mm solid #000; margin-right: 2.4mm; vertical-align: -0.4mm }
.side { display: flex; flex-wrap: wrap; gap: 0 4mm }
.fields { display: flex; flex-wrap: wrap; gap: 1mm 3mm; flex: 1 1 70mm; padding: 1mm 0 0.4mm }
.fields span { flex: 1 1 30mm; display: flex; white-space: nowrap }
.fields i { flex: 1; border-bottom: 0.3mm solid #000; margin-left: 1mm }
table { border-collapse: collapse; width: 100%; break-inside: avoid }
th { text-align: left; font-weight: normal; font-size: 9pt; padding: 0 2mm 0 0; white-space: nowrap }
td { border-bottom: 0.1mm solid #000; padding: 0.2mm 2mm 0.2mm 0; vertical-align: middle }
td.short { white-space: nowrap }
td.write { padding: 0.2mm 0; white-space: nowrap }
td.write span { display: inline-block; box-sizing: border-box; min-width: 12.5mm; height: 5.4mm; border: 0.25mm solid #000; padding: 0 0.6mm; margin-right: 0.8mm; font-size: 7pt; line-height: 1.1; vertical-align: middle }
td.write span:only-child { min-width: 20mm }
footer { font-size: 9pt }
</style>
</head>
<body>
{{range .Blocks}}<section>
{{if .Large}}<h1>{{.Heading}}</h1>
{{end}}{{if and .Heading (not .Large)}}<div class="top"><h2>{{.Heading}}</h2>{{template "fields" .Fields}}</div>
{{else}}{{template "fields" .Fields}}{{end}}{{range .Text}}<p><bdi>{{.}}</bdi></p>
{{end}}{{if .Ticks}}<ul>
{{range .Ticks}}<li>{{.}}</li>
{{end}}</ul>
{{end}}{{if .Boxes}}<ul class="side">
{{range .Boxes}}<li>{{.}}</li>
{{end}}</ul>
{{end}}{{range .Joined}}<table>
{{if not .Bare}}<tr>{{range .Head}}<th>{{.}}</th>{{end}}</tr>
{{end}}{{range .Rows}}<tr>{{range .}}{{if .Write}}<td class="write">{{range .Write}}<span>{{.}}</span>{{end}}</td>{{else}}<td{{if .Short}} class="short"{{end}}>{{if .Bold}}<b>{{.Text}}</b>{{else}}{{.Text}}{{end}}</td>{{end}}{{end}}</tr>
{{end}}</table>
{{end}}</section>
{{end}}<footer>File {{.Source}}, plan {{.Plan}}</footer>
</body>
</html>
`
