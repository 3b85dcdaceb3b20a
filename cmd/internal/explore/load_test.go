package explore_test

import (
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"net/url"
	"os"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/trains"
)

// Questions in flight, with all settings 200 from 20 pages, while the file goes away, is noise, and comes back:
// the program stays, what it keeps has a bound, and every page is right after.
func TestManyQuestionsAtOnce(t *testing.T) {
	before := kept()
	file := pairOrTurbine(t)
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	s := serve(t, file)
	s.settled()
	clients, each := trains.Draws(3, 20), trains.Draws(3, 10)
	var desks []string
	for range clients {
		desks = append(desks, s.open())
	}
	var all sync.WaitGroup
	var mu sync.Mutex
	codes := map[int]int{}
	for c := range clients {
		for n := range each {
			all.Go(func() {
				use := 60 + (c*each+n)%5
				form := url.Values{"what": {"aim"}, "use": {fmt.Sprint(use)}}
				if n%3 == 1 {
					form = url.Values{"what": {"values"}, "machine.1.foot.0.hole": {fmt.Sprint(36 + n)}}
				}
				r, err := http.NewRequest("POST", desks[c]+"do", strings.NewReader(form.Encode()))
				require.NoError(t, err)
				r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
				r.Header.Set("Origin", s.origin)
				got, err := http.DefaultClient.Do(r)
				if !assert.NoError(t, err) {
					return
				}
				io.Copy(io.Discard, got.Body)
				got.Body.Close()
				mu.Lock()
				codes[got.StatusCode]++
				mu.Unlock()
			})
		}
	}
	require.NoError(t, os.Remove(file))
	require.NoError(t, os.WriteFile(file, []byte(strings.Repeat("\x00\xffnoise", 600_000)), 0o644))
	all.Wait()
	require.NoError(t, os.WriteFile(file, text, 0o644))
	assert.Equal(t, map[int]int{http.StatusOK: clients * each}, codes)
	for _, d := range desks {
		s.desk = d
		page := s.ask("what", "aim", "use", "65", "strategy", "least-total")
		for strings.Contains(page, "can't be") { // until the page has seen the file again
			page = s.settled()
		}
		assert.Len(t, column(t, page, "total"), 2)
		assert.Contains(t, page, `--use</span> 0.65`)
	}
	s.byCommand(s.settled())
	assert.Less(t, kept()-before, 512<<20, "bytes kept")
}

// kept are the bytes that the program, with what its tests share, keeps.
func kept() int {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return int(m.HeapAlloc)
}

// timed has a page keep in window.figures how long after a click it has drawn the figures of what was asked, and in
// window.all how long after it nothing is looked for any more, in ms; 0: not yet.
const timed = `(() => {
	window.figures = window.all = 0;
	const from = performance.now();
	const drawn = (then) => requestAnimationFrame(() => {
		const c = new MessageChannel();
		c.port1.onmessage = () => then(performance.now() - from);
		c.port2.postMessage(0);
	});
	let first = false;
	const look = () => {
		if (!document.querySelector(".changes")) return;
		const said = document.getElementById("said").textContent;
		if (!first && !said.startsWith("Looking for") && document.querySelector("#answer-part svg")) {
			first = true;
			drawn((ms) => { window.figures = ms; });
		}
		if (document.querySelector("#answer-part[aria-busy]") ||
			[...document.querySelectorAll(".cases td")].some((e) => /searching\)?$/.test(e.textContent))) return;
		news.disconnect();
		drawn((ms) => { window.all = ms; });
	};
	const news = new MutationObserver(look);
	news.observe(document.body, { subtree: true, childList: true, attributes: true, characterData: true });
	document.querySelector("[name='%[1]s']").value = "%[2]s";
	document.querySelector("[name='%[1]s']").form.requestSubmit();
	return true;
})()`

// BenchmarkClickToFigures is how long it takes in the browser from a click on a question that changes the train file
// until new figures are drawn, and until all of the answer is there, in ms: median and worst.
func BenchmarkClickToFigures(b *testing.B) {
	for name, scale := range map[string]string{"turbine": "scale.coupling.0.limit",
		"reverse-dials": "scale.machine.0.growth", "five-machines": "scale.coupling.0.limit"} {
		b.Run(name, func(b *testing.B) {
			s := serve(b, example(b, name))
			p := browse(b, s.address)
			p.settled()
			var figures, settled []float64
			rng := rand.New(rand.NewPCG(1, 2))
			for b.Loop() {
				is[bool](p, fmt.Sprintf(timed, scale, fmt.Sprintf("%.4f", 0.9+0.3*rng.Float64())))
				p.until("window.all > 0")
				figures = append(figures, is[float64](p, "window.figures"))
				settled = append(settled, is[float64](p, "window.all"))
				p.click("#away")
				p.until(`!document.querySelector(".changes")`)
				p.settled()
			}
			for of, all := range map[string][]float64{"figures": figures, "answer": settled} {
				slices.Sort(all)
				b.ReportMetric(all[len(all)/2], of+"-median-ms")
				b.ReportMetric(all[len(all)-1], of+"-worst-ms")
			}
		})
	}
}
