package pages_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"leastmove/testdata/families"
)

// dressed is the train file of a drawn train of eight machines with all that a file may state besides: nozzles, levels,
// journal shift, soft feet, the shims of each pack, shaft ends, dials at every coupling, errors, a limit in warm-up and
// conditions.
func dressed(t *testing.T, seed uint64) string {
	number := func(s string) float64 {
		n, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	feet, couplings := 0, 0
	text := regexp.MustCompile(`(?m)^\[\[machine\]\]\n(.*\n)+?\n|^\[\[machine\.foot\]\]\n(.*\n)+?\n`).
		ReplaceAllStringFunc(families.TOML("long", seed), func(s string) string {
			s = strings.TrimRight(s, "\n")
			if strings.HasPrefix(s, "[[machine]]") {
				return s + "\nrun = { v = 0.02, h = 0.01 }\nclearance = 0.2\naxial = true\n" +
					"level = { pitch = 1.5, roll = 1.5, found = { pitch = 0.1, roll = 0.1 } }\n\n"
			}
			s = regexp.MustCompile(`\n(left|right) = .*`).ReplaceAllString(s, "")
			s = regexp.MustCompile(`shim = (.*)`).ReplaceAllStringFunc(s, func(pack string) string {
				return fmt.Sprintf("pieces = [%g, 0.5]", number(strings.Fields(pack)[2])-0.5)
			})
			feet++
			s += fmt.Sprintf("\nright = { soft = %g }\nleft = { soft = %g }\n", []float64{0.12, 0, 0}[feet%3],
				[]float64{0.08, 0, 0, 0, 0}[feet%5])
			if x := regexp.MustCompile(`name = "A"\nx = (.*)`).FindStringSubmatch(s); x != nil {
				for n, name := range []string{"inlet", "outlet"} {
					s += fmt.Sprintf("\n[[machine.nozzle]]\nname = %q\nx = %s\nz = %d\nlimit = 2.5\n", name, x[1], 900-1200*n)
				}
			}
			return s + "\n"
		})
	found := regexp.MustCompile(`name = "(coupling .*)"\nfrom = "(.*)"\nto = "(.*)"\nx = (.*)\n` +
		`((?:flex.*\n)?\[coupling\.limit\]\n(?:.*\n)+?)` +
		`\[coupling\.found\]\nv = \{ offset = (.*), angle = (.*) \}\nh = \{ offset = (.*), angle = (.*) \}\n`)
	text = found.ReplaceAllStringFunc(text, func(s string) string {
		f := found.FindStringSubmatch(s)
		couplings++
		out := fmt.Sprintf("name = %q\nfrom = %q\nto = %q\nx = %s\n%sgap = 1.5\n[coupling.found]\ngap = %g\n"+
			"[coupling.wanted]\nv = { offset = 0, angle = 0 }\nh = { offset = 0, angle = 0 }\ngap = 250\n",
			f[1], f[2], f[3], f[4], f[5], 250.4+0.1*float64(couplings))
		for n, side := range []float64{1, -1} { // reverse dials, 60 mm to either side
			v := side * (number(f[6]) + side*0.06*number(f[7]))
			h := side * (number(f[8]) + side*0.06*number(f[9]))
			out += fmt.Sprintf("[[coupling.reading]]\nkind = \"rim\"\non = %q\nx = %g\nrange = 10\nradius = 110\n"+
				"sag = -0.06\nclock = { 12 = 0, 3 = %.2f, 6 = %.2f, 9 = %.2f }\n", f[3-n], number(f[4])+60*side,
				-v-h-0.03, -2*v-0.06, -v+h-0.03)
		}
		return out
	})
	text = strings.NewReplacer("[aim]\nuse = 0.7", "[errors]\n\n[aim]\nuse = 0.85\ntransient = 4",
		"flat = 0.05", "flat = 0.05\nstock = [0.05, 0.1, 0.2, 0.25, 0.5, 1, 2, 3]").Replace(text)
	text = regexp.MustCompile(`(?m)^(offset|angle) = (.*)`).ReplaceAllStringFunc(text, func(s string) string {
		name, limit, _ := strings.Cut(s, " = ")
		return fmt.Sprintf("%s = %g", name, 1.5*number(limit))
	})
	text += "\n[[condition]]\nname = \"part load\"\ngrowth = 0.7\nuse = 1.2\n" +
		"\n[[condition]]\nname = \"cold start\"\ngrowth = 0\nrun = 0\nuse = 2.5\n" +
		"\n[[condition]]\nname = \"full load\"\ngrowth = 1.05\nuse = 1.1\n"
	return once(t, fmt.Sprint("dressed ", seed), func(folder string) (string, error) {
		file := filepath.Join(folder, "train.toml")
		return file, os.WriteFile(file, []byte(text), 0o666)
	})
}
