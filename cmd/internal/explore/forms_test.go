package explore_test

import (
	"html"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/trains"
)

// A form of a page: where it is sent, and what is in it.
type form struct {
	action string
	values url.Values
	typed  []string // names of the fields that numbers are typed into
}

var (
	formTags  = regexp.MustCompile(`(?s)<form method="post" action="(\w+)"[^>]*>(.*?)</form>`)
	inputTags = regexp.MustCompile(`<input ([^>]*)>`)
	attribute = regexp.MustCompile(`([a-z-]+)="([^"]*)"`)
)

// forms are those of a page that numbers are typed into.
func forms(page string) []form {
	var out []form
	for _, f := range formTags.FindAllStringSubmatch(page, -1) {
		one := form{action: f[1], values: url.Values{}}
		for _, in := range inputTags.FindAllStringSubmatch(f[2], -1) {
			has := map[string]string{}
			for _, a := range attribute.FindAllStringSubmatch(in[1], -1) {
				has[a[1]] = html.UnescapeString(a[2])
			}
			one.values.Set(has["name"], has["value"])
			if has["inputmode"] != "" {
				one.typed = append(one.typed, has["name"])
			}
		}
		if one.typed != nil {
			out = append(out, one)
		}
	}
	return out
}

// tagOf is a field of a page as it is sent.
func tagOf(t *testing.T, page, name string) string {
	tag := regexp.MustCompile(`<input name="` + regexp.QuoteMeta(name) + `"[^>]*>`).FindString(page)
	require.NotEmpty(t, tag, name)
	return tag
}

// In every form, what was typed stays where one of its numbers is none: all of it, with the fault at its field and in
// words beside it. Nothing is asked for, and the next time that the form is sent all is as it should be.
func TestMistypedNumbersStay(t *testing.T) {
	s := serve(t, pair(t, "name = \"pump\"\n", "name = \"pump\"\nhold = true\n", "[coupling.found]", "",
		"v = { offset = 0.5, angle = 0 }",
		"[[coupling.reading]]\nkind = \"rim\"\non = \"pump\"\nx = 1400\nradius = 80\nsag = 0\nclock = { 12 = 0, 3 = 0.5, 6 = 1, 9 = 0.5 }\n",
		"h = { offset = 0.5, angle = 0 }",
		"[[coupling.reading]]\nkind = \"face\"\non = \"pump\"\nradius = 80\nsag = 0\nclock = { 12 = 0, 3 = 0, 6 = 0, 9 = 0 }\n"))
	page := s.settled()
	all := forms(page)
	require.Len(t, all, 6, "aim, two machines, a coupling, moves, readings")
	command := regexp.MustCompile(`<code>.*?</code>`).FindString(page)
	const good, bad = "0.25", "0.2.5"
	for _, f := range all {
		require.Greater(t, len(f.typed), 1)
		wrong := f.typed[len(f.typed)/2]
		for _, name := range f.typed {
			f.values.Set(name, good)
		}
		f.values.Set(wrong, bad)
		code, page := s.post(f.action, f.values)
		require.Equal(t, http.StatusOK, code)
		for range 2 { // and when the page is loaded anew
			for _, name := range f.typed {
				tag := tagOf(t, page, name)
				assert.Contains(t, tag, `value="`+f.values.Get(name)+`"`)
				assert.Equal(t, name == wrong, strings.Contains(tag, ` aria-invalid="true" aria-describedby="w-`+name+`"`), tag)
			}
			assert.Equal(t, 1, strings.Count(page, "aria-invalid"), wrong)
			assert.Regexp(t, `<li id="w-`+regexp.QuoteMeta(wrong)+`"><bdi>[^<]+</bdi>: &#34;0.2.5&#34; is no (number|share)`,
				page)
			_, page = s.get("")
			assert.Contains(t, page, command, "nothing is asked for")
			assert.NotContains(t, page, `id="look-1"`)
		}
		if f.values.Get("what") == "" { // readings: marks go when they are sent again
			f.values.Set(wrong, good)
			_, page = s.post(f.action, f.values)
			assert.NotContains(t, page, "aria-invalid")
			s.ask("what", "leave")
		}
		s.ask("what", "look", "case", "0") // the case is left, and with it what was typed
		_, page = s.get("")
		assert.NotContains(t, page, "aria-invalid")
		assert.NotContains(t, page, bad)
	}
	// Put right and sent again it is asked for.
	f := all[0]
	f.values.Set("use", "60")
	f.values.Set("chance", "?")
	s.post(f.action, f.values)
	f.values.Set("chance", "")
	_, page = s.post(f.action, f.values)
	assert.Contains(t, page, `--use</span> 0.6</code>`)
	assert.NotContains(t, page, "aria-invalid")
}

// Readings are called what they are called wherever readings are spoken of.
func TestReadingsAreNamedAsElsewhere(t *testing.T) {
	s := serve(t, example(t, "turbine"))
	_, page := s.get("")
	_, said, _ := run("readings", "../../../examples/turbine/before.toml")
	for _, name := range []string{"rim on compressor, x = 3750", "face on compressor, radius 100"} {
		assert.Contains(t, said, name)
		assert.Contains(t, page, `aria-label="low speed, `+name)
	}
	assert.Contains(t, page, "<caption>Offset at x = 1950</caption>")
	assert.NotContains(t, page, "eading 1")
}

// What a verdict holds is released on the page as on the command line, in the same words.
func TestHeldWorkOrderIsReleased(t *testing.T) {
	if !trains.Everything() {
		t.Skip("takes seconds: LEASTMOVE_TESTS=all")
	}
	file := pair(t, "[[machine]]\nname = \"motor\"",
		"[errors]\noffset = 0.02\nangle = 0.05\nplacing = 0.02\ngrowth = 0.5\n[[machine]]\nname = \"motor\"\nrun = { v = 0, h = 0 }",
		"name = \"pump\"\n", "name = \"pump\"\nrun = { v = 0, h = 0 }\n")
	s := serve(t, file)
	page := s.settled()
	assert.Regexp(t, `(MARGINAL|NOT ADVISED): `, page)
	const words = "he engineer has decided to carry out a plan that is marginal or not advised: print its stages"
	assert.Contains(t, page, "T"+words)
	_, help, _ := run("sheet", "--help")
	assert.Contains(t, strings.Join(strings.Fields(help), " "), "t"+words)
	pages := regexp.MustCompile(`/Type /Page\b`)
	_, held := s.get("export/pdf")
	code, released := s.get("export/released")
	assert.Equal(t, http.StatusOK, code)
	assert.True(t, strings.HasPrefix(released, "%PDF-"))
	assert.Greater(t, len(pages.FindAllString(released, -1)), len(pages.FindAllString(held, -1)), "its stages")
}
