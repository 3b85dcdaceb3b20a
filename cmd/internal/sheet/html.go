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

const page = `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>Work order: {{.Title}}</title>
<style>
@page { size: {{.Paper}}; margin: 12mm 10mm }
body { font: 11pt/1.3 "Liberation Sans", Arial, Helvetica, sans-serif; color: #000; background: #fff; max-width: 190mm; margin: 0 auto; overflow-wrap: anywhere }
h1 { font-size: 16pt; margin: 0 0 1mm }
h2 { font-size: 12pt; margin: 0 0 1mm; border-top: 0.4mm solid #000; padding-top: 1mm }
section { margin: 0 0 3mm; break-inside: avoid }
p { margin: 0 0 1.5mm }
ul { list-style: none; margin: 0 0 1.5mm; padding: 0 }
li { padding-left: 6mm; text-indent: -6mm }
li::before { content: ""; display: inline-block; width: 3.2mm; height: 3.2mm; border: 0.3mm solid #000; margin-right: 2.4mm; vertical-align: -0.4mm }
.fields { display: flex; flex-wrap: wrap; gap: 1mm 4mm; margin: 0 0 1.5mm }
.fields span { flex: 1 1 30mm; display: flex; white-space: nowrap }
.fields i, td i { flex: 1; border-bottom: 0.3mm solid #000; min-width: 14mm; margin-left: 1mm }
table { border-collapse: collapse; width: 100%; margin: 0 0 1.5mm; break-inside: avoid }
th { text-align: left; font-weight: normal; font-size: 9.5pt; padding: 0 1.5mm 0 0 }
td { border-bottom: 0.1mm solid #888; padding: 0.4mm 1.5mm 0.4mm 0; vertical-align: bottom }
td.write { padding: 0.4mm 0 }
td.write span { display: flex; float: left; box-sizing: border-box; min-width: 16mm; height: 6mm; border: 0.3mm solid #000; padding: 0 1mm; font-size: 7.5pt }
footer { font-size: 9pt }
</style>
</head>
<body>
{{range .Blocks}}<section>
{{if .Heading}}{{if .Large}}<h1>{{.Heading}}</h1>{{else}}<h2>{{.Heading}}</h2>{{end}}
{{end}}{{if .Fields}}<div class="fields">{{range .Fields}}<span>{{.}}<i></i></span>{{end}}</div>
{{end}}{{range .Text}}<p><bdi>{{.}}</bdi></p>
{{end}}{{if .Ticks}}<ul>
{{range .Ticks}}<li>{{.}}</li>
{{end}}</ul>
{{end}}{{range .Joined}}<table>
<tr>{{range .Head}}<th>{{.}}</th>{{end}}</tr>
{{range .Rows}}<tr>{{range .}}{{if .Write}}<td class="write">{{range .Write}}<span>{{.}}</span>{{end}}</td>{{else}}<td>{{if .Bold}}<b>{{.Text}}</b>{{else}}{{.Text}}{{end}}</td>{{end}}{{end}}</tr>
{{end}}</table>
{{end}}</section>
{{end}}<footer>File {{.Source}}, plan {{.Plan}}</footer>
</body>
</html>
`
