package trainfile

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"leastmove/train"
)

// Whatever the text: no panic, faults in file order and inside the text, and
// no train if and only if there is an error.
func FuzzRead(f *testing.F) {
	for _, pattern := range []string{"../../testdata/faulty/*.toml", "testdata/*.toml"} {
		files, err := filepath.Glob(pattern)
		require.NoError(f, err)
		for _, file := range files {
			src, err := os.ReadFile(file)
			require.NoError(f, err)
			f.Add(src)
		}
	}
	f.Add([]byte("[[machine]]\n[machine]\n"))
	f.Add([]byte("machine = [{}, 1]\ncoupling = [[1]]\n[[machine.foot]]"))
	f.Add([]byte("a.b = 1\na = 2"))
	f.Add([]byte("[a]\n[a.b]\n[[a.b]]\n"))
	f.Add([]byte("x = [ # \n"))
	const foot = "title = \"t\"\nunits = \"mm\"\n[[machine]]\nheight = 0.4\n[[machine.foot]]\nspread = 1\n"
	for _, keys := range []string{
		"pieces = [1e300, 1e300]\nlower = 1", "pieces = []\nshim = nan", "shim = 1\npieces = 3\nleft = { pieces = [[]] }",
		"soft = -0\nleft = { soft = 1e-300 }", "bolt = \"M24\"\nfit = \"medium\"", "bolt = \"1 1/8 in\"\nhole = 1",
		"bolt = \"M1e9x\"",
		"bolt = \"1/0 in\"\nleft = { bolt = \"99999999999999999999 in\" }",
		"sprad = 1\nbolts = 2\nrize = 3\nmaterial = \"cast steel\"",
	} {
		f.Add([]byte(foot + keys))
		f.Add([]byte("units = \"inch\"\n" + keys))
	}
	f.Add([]byte("units = \"inch\"\n[relief]\nhole = 1e7\nopen = 1e-9\ncut = 1e-9\n[relief.bolt]"))
	const pair = "title = \"t\"\nunits = \"mm\"\n[[machine]]\nname = \"a\"\nheight = 1\nhold = " +
		"true\n[[machine]]\nname = \"b\"\nheight = 1\nhold = true\n" +
		"[[coupling]]\nname = \"c\"\nfrom = \"a\"\nto = \"b\"\nx = 0\nlimit = { offset = 1, angle = 1 }\n"
	for _, keys := range []string{
		"kind = \"rim\"\non = \"a\"\nx = 1e-300\nclock = { 12 = 0, 4 = 1e-300, 8 = -0.0 }\nradius = " +
			"1e-300\n[[coupling.reading]]\nkind = \"face\"\nradius = 5000\nsweep = [[0, 100], [1e-7, -100], [360, 0]]",
		"kind = \"offset\"\nx = 0\nv = 100\nh = -100\n[[coupling.reading]]\nkind = \"offset\"\nx = 20e3\nv = 0\nh = " +
			"0\nerror = 1e-300\nset = 1000",
		"kind = \"rim\"\nx = 0\nsweep = [[]]", "kind = \"face\"\nclock = { 012 = 1, -3 = 2, \"\" = 3 }",
		"clock = []\nsweep = {}", "sweep = [[[0]], 1, [0, [1]]]",
	} {
		f.Add([]byte(pair + "[[coupling.reading]]\n" + keys))
	}
	points := func(keys string) string {
		return strings.Replace(strings.Replace(pair, "hold = true\n[[machine]]", "hold = true\n"+keys+"[[machine]]", 1),
			"hold = true\n[[coupling]]", "hold = true\n"+keys+"[[coupling]]", 1)
	}
	for _, keys := range []string{
		"[[machine.point]]\nx = 0\nv = 1\nh = 1\n[[machine.point]]\nx = 1000\nv = 1\nh = 1\nerror = 1e-300\n",
		"[[machine.point]]\nx = 0\nv = 50e3\nh = -50e3\nrunning = { v = -50e3, h = 0 }\n[[machine.point]]\nx = " +
			"1e-300\nv = 0\nh = 0\n",
		"[[machine.shaft]]\nname = \"p\"\nclearance = 1e-300\nrun = { v = 1 }\n[[machine.shaft]]\nname = \"q\"\ny = " +
			"1e-300\n[[machine.point]]\nshaft = \"q\"\nx = 0\nv = 0\nh = 0\n[[machine.point]]\nshaft = \"q\"\nx = 9e6\nv " +
			"= 0\nh = 0\n",
		"[[machine.point]]\n[[machine.point]]\nshaft = 3\nx = \"\"\nrunning = []\n",
		"[[machine.growth]]\nx = 0\ny = 1\n[[machine.growth]]\nx = 0\ny = -1\nv = 50\n[[machine.growth]]\nx = 1e7\ny = 2e4\n",
	} {
		f.Add([]byte(points(keys)))
	}
	f.Add([]byte(strings.Replace(pair, "limit = { offset = 1, angle = 1 }",
		"flex = [0, 100]\nlimit = { published = \"spacer\", angle = 1 }", 1)))
	f.Add([]byte("#=\x06{\" }\n"))
	f.Fuzz(func(t *testing.T, src []byte) {
		got, report := Read("fuzz.toml", src, options)
		require.Equal(t, report.Failed(), got == nil)
		placed(t, report, src)
		again, same := Read("fuzz.toml", src, options)
		require.Equal(t, report, same, "the same text has the same faults")
		require.Equal(t, got == nil, again == nil)
	})
}

// placed asks that faults are in file order, inside the text and of one line.
func placed(t *testing.T, report Report, src []byte) {
	lines := strings.Split(strings.TrimPrefix(string(src), "\ufeff"), "\n")
	last := 0
	for _, fault := range report {
		require.GreaterOrEqual(t, fault.offset, last)
		last = fault.offset
		require.GreaterOrEqual(t, fault.Line, 1)
		require.LessOrEqual(t, fault.Line, len(lines))
		require.Equal(t, strings.TrimSuffix(lines[fault.Line-1], "\r"), fault.Source)
		require.GreaterOrEqual(t, fault.Column, 1)
		require.GreaterOrEqual(t, fault.Width, 1)
		require.LessOrEqual(t, fault.Column+fault.Width-2, utf8.RuneCountInString(fault.Source)+1)
		require.NotContains(t, fault.Message, "\n")
		require.NotContains(t, fault.String(), "\x1b")
	}
}

// Whatever a file of bands is: no panic, its faults inside its text, and where
// it is taken, bands in ascending order of speeds that state limits above zero.
func FuzzBandsFile(f *testing.F) {
	for _, text := range []string{
		"units = \"mm\"\n[[band]]\nup_to_rpm = 3600\noffset = 0.05\nangle = 0.3\n[[band]]\nup_to_rpm = 1800\noffset = " +
			"0.08\nangle = 0.5\nflex_angle = 1\n",
		"title = \"t\"\nunits = \"inch\"\nband = [{ up_to_rpm = 1e5, flex_angle = 1e-9 }, { up_to_rpm = 1e5, " +
			"flex_angle = 2 }]",
		"units = \"inch\"\n[[band]]\nangle = 1\n", "units = 1\n[band]\nup_to_rpm = nan\n", "band = 3\nunits = \"m\"",
		"[[band]]\n[[band.up_to_rpm]]\n",
		"\ufeffunits = \"mm\"\r\n[[band]]\r\nup_to_rpm = -0.0\r\noffset = 1e999\r\nangle = 0x1\r\n",
		"units = \"mm\"\nmachine = []\n[[coupling]]\n", "[\x1b]", "",
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		bands, report := bandFile(&File{Name: "fuzz.toml", Text: src})
		placed(t, report, src)
		_, again := bandFile(&File{Name: "fuzz.toml", Text: src})
		require.Equal(t, report, again, "the same text has the same faults")
		if report.Failed() {
			require.Nil(t, bands)
			return
		}
		for i, b := range bands {
			require.Greater(t, b.rpm, 0.0)
			if i > 0 {
				require.Greater(t, b.rpm, bands[i-1].rpm)
			}
			require.Equal(t, math.IsInf(b.offset, 1), math.IsInf(b.angle, 1), "one needs the other")
			require.False(t, math.IsInf(b.angle, 1) && math.IsInf(b.flexAngle, 1), "a band states something")
			for _, limit := range []float64{b.offset, b.angle, b.flexAngle} {
				require.Greater(t, limit, 0.0)
			}
		}
	})
}

// Whatever is in a file of readings: no panic, and where it is taken as many
// positions as it has values, all of them in their range and no more than are
// read; else an error of one line.
func FuzzSweepFile(f *testing.F) {
	for _, text := range []string{
		"0,0\n90,-0.03\n180,-0.28\n270,-0.25\n360,0\n", "\ufeffangle, reading\r\n0, 0\r\n\r\n 90, -0.03\r\n",
		"Winkel;Anzeige\n0;0\n90;-0,03\n",
		"0,NaN", "0,inf", "1e999,0", "0,reading\n", "0,0\n90,\"0.1\n", "\"0\n\",1", "0x1p4,0\n", "1_0,0", "0,0,0\n",
		";;;\n", ",\n", "\x1b[31m,1", "-720;100,0\n",
	} {
		f.Add([]byte(text), true)
		f.Add([]byte(text), false)
	}
	f.Fuzz(func(t *testing.T, text []byte, inch bool) {
		r := &reader{units: train.Millimetres}
		if inch {
			r.units = train.Inches
		}
		d := &train.Dial{}
		err := r.sweepRows(string(text), d)
		if err != nil {
			require.NotEmpty(t, err.Error())
			require.NotContains(t, oneLine(err), "\x1b")
			require.NotContains(t, oneLine(err), "\n")
			return
		}
		require.Len(t, d.Values, len(d.Angles))
		require.LessOrEqual(t, len(d.Angles), mostPositions)
		for i := range d.Angles {
			require.True(t, turns.holds(d.Angles[i]), d.Angles[i])
			require.True(t, offsets.holds(d.Values[i]), d.Values[i])
		}
	})
}
