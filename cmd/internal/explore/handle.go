package explore

import (
	"bytes"
	"cmp"
	"context"
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"net/http"
	"regexp"
	"strings"
	"time"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/pages"
	"leastmove/cmd/internal/words"
)

var (
	//go:embed page.html
	pageText string
	//go:embed page.css
	pageStyle string
	//go:embed page.js
	pageScript string
)

// brief is how long the answer to a form waits for the figures, so that one request is enough
// where they are there at once.
const brief = 250 * time.Millisecond

// handler has all addresses below the token.
func (s *server) handler() http.Handler {
	m := http.NewServeMux()
	at := func(pattern string, do func(http.ResponseWriter, *http.Request, *sheet)) {
		method, path, _ := strings.Cut(pattern, " ")
		m.HandleFunc(method+" /{token}/"+path, func(w http.ResponseWriter, r *http.Request) {
			sh := s.sheet(r.PathValue("train"))
			if sh == nil {
				http.NotFound(w, r)
				return
			}
			do(w, r, sh)
		})
	}
	atDesk := func(pattern string, do func(http.ResponseWriter, *http.Request, *desk)) {
		method, path, _ := strings.Cut(pattern, " ")
		at(method+" {train}/{desk}/"+path, func(w http.ResponseWriter, r *http.Request, sh *sheet) {
			d := sh.desk(r.PathValue("desk"))
			if d == nil {
				if method == "GET" && path == "{$}" {
					http.Redirect(w, r, "../", http.StatusSeeOther) // it was closed: begin anew
					return
				}
				http.Error(w, "this page was closed, as many others were opened: load it anew", http.StatusGone)
				return
			}
			d.used.Store(time.Now().UnixNano())
			do(w, r, d)
		})
	}
	at("GET {train}/alive", func(w http.ResponseWriter, r *http.Request, sh *sheet) { fmt.Fprintln(w, alive) })
	at("GET {train}/{$}", func(w http.ResponseWriter, r *http.Request, sh *sheet) {
		http.Redirect(w, r, sh.open().id+"/", http.StatusSeeOther)
	})
	m.HandleFunc("GET /{token}/style.css", func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/css; charset=utf-8")
		fmt.Fprint(w, doc.Style(), pageStyle)
	})
	m.HandleFunc("GET /{token}/page.js", func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/javascript; charset=utf-8")
		fmt.Fprint(w, pageScript)
	})
	texts := template.Must(template.New("").Funcs(template.FuncMap{
		"whole": whole,
		"words": func(s any) string { return strings.ReplaceAll(fmt.Sprint(s), "-", " ") },
	}).Parse(pageText))
	show := func(w http.ResponseWriter, d *desk, write func(w io.Writer, p *page) error) {
		var b bytes.Buffer
		p, err := d.page()
		if err == nil {
			err = write(&b, p)
		}
		if err != nil {
			http.Error(w, "fault of the program: "+err.Error(), http.StatusInternalServerError)
			return
		}
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		w.Write(b.Bytes())
	}
	atDesk("GET {$}", func(w http.ResponseWriter, r *http.Request, d *desk) {
		d.begin(r)
		show(w, d, func(w io.Writer, p *page) error { return texts.ExecuteTemplate(w, "page", p) })
	})
	part := func(w http.ResponseWriter, r *http.Request, d *desk) {
		show(w, d, func(w io.Writer, p *page) error { return p.write(w, texts, r.Header.Get("X-Has")) })
	}
	atDesk("GET part", part)
	shown := func(w http.ResponseWriter, r *http.Request, d *desk) {
		if r.Header.Get("X-Part") == "" {
			http.Redirect(w, r, "./", http.StatusSeeOther)
			return
		}
		part(w, r, d)
	}
	// taken sends the head of an answer as soon as its question is taken: the page sends the next one then.
	taken := func(w http.ResponseWriter, r *http.Request) {
		if r.Header.Get("X-Part") != "" {
			w.Header().Set("Content-Type", "text/html; charset=utf-8")
			w.WriteHeader(http.StatusOK)
			http.NewResponseController(w).Flush()
		}
	}
	atDesk("POST do", func(w http.ResponseWriter, r *http.Request, d *desk) {
		if err := r.ParseForm(); err != nil {
			http.Error(w, "the form is too large or broken", http.StatusBadRequest)
			return
		}
		d.mu.Lock()
		d.do(r.PostForm)
		d.work()
		d.tell()
		d.mu.Unlock()
		taken(w, r)
		d.wait(r, brief)
		shown(w, r, d)
	})
	atDesk("POST stop", func(w http.ResponseWriter, r *http.Request, d *desk) {
		if err := r.ParseForm(); err != nil {
			http.Error(w, "the form is too large or broken", http.StatusBadRequest)
			return
		}
		d.stop(r.PostForm.Get("of"))
		if r.Header.Get("X-Part") == "" {
			http.Redirect(w, r, "./", http.StatusSeeOther)
			return
		}
		w.WriteHeader(http.StatusNoContent) // the page is told when there is something to show
	})
	atDesk("POST read", func(w http.ResponseWriter, r *http.Request, d *desk) {
		if err := r.ParseForm(); err != nil {
			http.Error(w, "the form is too large or broken", http.StatusBadRequest)
			return
		}
		taken(w, r)
		d.read(r, r.PostForm)
		shown(w, r, d)
	})
	atDesk("POST save", func(w http.ResponseWriter, r *http.Request, d *desk) {
		d.save()
		shown(w, r, d)
	})
	atDesk("POST end", func(w http.ResponseWriter, r *http.Request, d *desk) {
		fmt.Fprintln(w, "leastmove has ended: this page can be closed.")
		time.AfterFunc(100*time.Millisecond, s.end)
	})
	atDesk("GET events", events)
	atDesk("GET export/{what}", func(w http.ResponseWriter, r *http.Request, d *desk) { d.export(w, r) })
	return s.guard(m)
}

// dashed is the name of a flag.
var dashed = regexp.MustCompile(`--[a-z-]+`)

// whole is a command line of which no flag is broken over lines.
func whole(command string) template.HTML {
	return template.HTML(dashed.ReplaceAllString(template.HTMLEscapeString(command), `<span class="flag">$0</span>`))
}

// begin starts what a page that is opened shows.
func (d *desk) begin(r *http.Request) {
	d.mu.Lock()
	d.work()
	d.mu.Unlock()
	d.wait(r, brief)
}

// wait waits until there are figures for the case that is looked at, a little.
func (d *desk) wait(r *http.Request, most time.Duration) {
	late := time.NewTimer(most)
	defer late.Stop()
	for {
		d.mu.Lock()
		if d.base.Train == nil {
			d.mu.Unlock()
			return
		}
		a, _ := d.known(d.current().question(d.base).key())
		changed := d.changed
		d.mu.Unlock()
		if a != nil {
			return
		}
		select {
		case <-changed:
		case <-late.C:
			return
		case <-r.Context().Done():
			return
		}
	}
}

// events tells a page when there is something new to show, and how far a search is.
func events(w http.ResponseWriter, r *http.Request, d *desk) {
	w.Header().Set("Content-Type", "text/event-stream")
	c := http.NewResponseController(w)
	send := func(event, data string) bool {
		data = strings.NewReplacer("\r", " ", "\n", " ").Replace(data)
		c.SetWriteDeadline(time.Now().Add(readTime))
		_, err := fmt.Fprintf(w, "event: %s\ndata: %s\n\n", event, data)
		return err == nil && c.Flush() == nil
	}
	tick := time.NewTicker(400 * time.Millisecond)
	defer tick.Stop()
	c.SetReadDeadline(time.Time{})
	changed, version := d.news()
	if !send("change", version) {
		return
	}
	told, quiet := "", 0
	for {
		select {
		case <-r.Context().Done(): // the page is away, or the program ends
			if d.server.ctx.Err() != nil {
				send("over", "ended")
			}
			return
		case <-changed:
			if changed, version = d.news(); !send("change", version) {
				return
			}
		case <-tick.C:
			d.mu.Lock()
			now := d.going()
			d.mu.Unlock()
			quiet++
			if now != told || quiet > 25 {
				told, quiet = now, 0
				if !send("told", now) {
					return
				}
			}
		}
	}
}

// going says how far the search for the case that is looked at is; "": there is none, or another one ends first. The
// lock is held.
func (d *desk) going() string {
	r := d.running.Load()
	if r == nil || d.base.Train == nil || r.key != d.current().question(d.base).key() {
		return ""
	}
	told := cmp.Or(r.told, "looking for a plan")
	switch {
	case r.first == nil:
	case !r.first.SoFar:
		told = "this plan is found; looking for others beside it"
	case r.told == "":
		told = "looking for a better plan"
	}
	return fmt.Sprintf("%s, %s", words.Capital(told), time.Since(r.since).Round(100*time.Millisecond))
}

// types are what results of a case are, and of all cases.
func types(what string) string {
	return map[string]string{
		"toml": "application/toml; charset=utf-8", "json": "application/json; charset=utf-8",
		"html": "text/html; charset=utf-8", "pdf": "application/pdf", "txt": "text/plain; charset=utf-8",
		"released": "application/pdf",
		"moves":    "application/json; charset=utf-8", "cases": "text/html; charset=utf-8", "cases-pdf": "application/pdf",
	}[what]
}

// export writes a result of the case that is looked at, or the table of all.
func (d *desk) export(w http.ResponseWriter, r *http.Request) {
	what := r.PathValue("what")
	d.mu.Lock()
	if d.base.Train == nil || types(what) == "" {
		d.mu.Unlock()
		http.NotFound(w, r)
		return
	}
	q := d.current().question(d.base)
	d.mu.Unlock()
	select {
	case d.server.writing <- struct{}{}:
		defer func() { <-d.server.writing }()
	case <-r.Context().Done():
		return
	}
	var b bytes.Buffer
	err := guarded(func() error {
		switch what {
		case "moves":
			b.Write(q.Plan)
			return nil
		case "cases", "cases-pdf":
			return d.table(r.Context(), &b, what == "cases-pdf")
		}
		return d.program.Write(r.Context(), &b, q, what)
	})
	if err != nil {
		http.Error(w, err.Error(), http.StatusConflict)
		return
	}
	w.Header().Set("Content-Type", types(what))
	w.Header().Set("Content-Disposition", "attachment")
	w.Write(b.Bytes())
}

// table writes all cases, when they are answered.
func (d *desk) table(ctx context.Context, w io.Writer, paper bool) error {
	d.mu.Lock()
	for len(d.wanted()) > 0 {
		changed := d.changed
		d.mu.Unlock()
		select {
		case <-changed:
		case <-ctx.Done():
			return ctx.Err()
		}
		d.mu.Lock()
	}
	all, t := d.besides(), d.base.Train
	d.mu.Unlock()
	out := pages.CasesDoc(t, d.program.Name(), all)
	if paper {
		return out.PDF(w, doc.A4)
	}
	return out.HTML(w)
}

// save writes the changed values into the file, if it is still as the page has it.
func (d *desk) save() {
	d.mu.Lock()
	if d.base.Train == nil || d.current().own != nil {
		d.mu.Unlock()
		return
	}
	q, was := d.current().question(d.base), d.base.text
	d.said = ""
	d.mu.Unlock()
	said := fmt.Sprintf("%s is written.", d.program.Name())
	if d.program.Read(q.Text).Train == nil {
		said = "Nothing was written: the file could not be used with these changes."
	} else if err := d.program.Save(q.Text, was); err != nil {
		said = "Nothing was written: " + err.Error()
	} else {
		d.reload()
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	d.said = strings.TrimSpace(said + " " + d.said) // what following the new text came to stays said
}
