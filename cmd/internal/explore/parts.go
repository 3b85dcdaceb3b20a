package explore

import (
	"bytes"
	"fmt"
	"hash/fnv"
	"html/template"
	"io"
	"slices"
	"strings"
)

// parts are the templates of what changes on a page, each an element by itself; the last is always sent.
var parts = []string{"top", "file-part", "stop-part", "cases-part", "changes-part", "answer-part", "ask-part",
	"values-part", "moves-part", "out-part", "status-part"}

// write writes the parts of a page that are not as the browser has them: has are the names of those that it has, each
// with a sum of what is in it, as status-part gave them.
func (p *page) write(w io.Writer, texts *template.Template, has string) error {
	had := strings.Fields(has)
	var b bytes.Buffer
	for _, name := range parts {
		b.Reset()
		if err := texts.ExecuteTemplate(&b, name, p); err != nil {
			return err
		}
		h := fnv.New64a()
		h.Write(b.Bytes())
		sum := fmt.Sprintf("%s:%x", name, h.Sum64())
		p.Has += sum + " "
		if slices.Contains(had, sum) {
			continue
		}
		if _, err := w.Write(b.Bytes()); err != nil {
			return err
		}
	}
	return nil
}
