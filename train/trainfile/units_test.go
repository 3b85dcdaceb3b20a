package trainfile

import (
	"math"
	"os"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/train"
)

// What one mm (or °C) is in an inch file, key by key; keys that are not listed
// read the same in both. Written down here apart from the tables of keys.
var perMillimetre = func() map[string]float64 {
	sizes := map[string]float64{"rise": 1.8}
	for _, key := range strings.Fields("at x y z spread height flex bolt hole bolt_at gap open radius span") {
		sizes[key] = 1 / 25.4
	}
	for _, key := range strings.Fields("step flat keep stock shim pieces soft lower raise left right v h a offset " +
		"placing limit least_move growth_least touch cut axial_most ring back residual repeat method survey range " +
		"clearance sag true_sag error free 12 3 6 9") {
		sizes[key] = 1 / 0.0254
	}
	return sizes
}()

// inInches is a mm file in inches and mils. The costs of relief read the same
// in both.
func inInches(text string) string {
	number := regexp.MustCompile(`-?\d+(\.\d+)?`)
	before, rest, _ := strings.Cut(text, "[relief]")
	costs, after, _ := strings.Cut(rest, "open ")
	text = before + "RELIEF open " + after
	text = regexp.MustCompile(`(\w+)(\s*=\s*)(-?\d[\d.]*|\[[-\d., ]+\])`).ReplaceAllStringFunc(text,
		func(s string) string {
			key, value, _ := strings.Cut(s, "=")
			size, ok := perMillimetre[strings.TrimSpace(key)]
			if !ok {
				return s
			}
			return key + "=" + number.ReplaceAllStringFunc(value, func(v string) string {
				x, _ := strconv.ParseFloat(v, 64)
				return strconv.FormatFloat(x*size, 'g', 17, 64)
			})
		})
	sweep := regexp.MustCompile(`(?m)^sweep.*$`)
	reading := regexp.MustCompile(`, -?[\d.]+\]`)
	text = sweep.ReplaceAllStringFunc(text, func(line string) string {
		return reading.ReplaceAllStringFunc(line, func(s string) string {
			x, _ := strconv.ParseFloat(strings.Trim(s, ", ]"), 64)
			return ", " + strconv.FormatFloat(x/0.0254, 'g', 17, 64) + "]"
		})
	})
	text = strings.Replace(text, "RELIEF ", "[relief]"+costs, 1)
	return strings.Replace(text, `units = "mm"`, `units = "inch"`, 1)
}

// The same train, in mm and in inches, is the same train.
func TestUnits(t *testing.T) {
	src, err := os.ReadFile("testdata/whole.toml")
	require.NoError(t, err)
	text := inInches(string(src))
	require.Contains(t, text, "units = \"inch\"")
	inch, report := Read("inch.toml", []byte(text), options)
	require.NotNil(t, inch, report.String())
	mm := file(t, "testdata/whole.toml")
	require.Equal(t, train.Inches, inch.Units)
	inch.Units = mm.Units
	numbers := assertSame(t, "train", reflect.ValueOf(*mm), reflect.ValueOf(*inch))
	assert.Greater(t, numbers, 100, "numbers compared")
}

// assertSame holds that two values are the same to 1e-9, and counts numbers.
func assertSame(t *testing.T, at string, a, b reflect.Value) int {
	t.Helper()
	n := 0
	switch a.Kind() {
	case reflect.Struct:
		for i := range a.NumField() {
			n += assertSame(t, at+"."+a.Type().Field(i).Name, a.Field(i), b.Field(i))
		}
	case reflect.Slice, reflect.Array:
		require.Equal(t, a.Len(), b.Len(), at)
		for i := range a.Len() {
			n += assertSame(t, at+"["+strconv.Itoa(i)+"]", a.Index(i), b.Index(i))
		}
	case reflect.Pointer:
		require.Equal(t, a.IsNil(), b.IsNil(), at)
		if !a.IsNil() {
			n += assertSame(t, at, a.Elem(), b.Elem())
		}
	case reflect.Float64:
		x, y := a.Float(), b.Float()
		same := x == y || math.IsNaN(x) && math.IsNaN(y) || math.Abs(x-y) <= 1e-9
		assert.True(t, same, "%s: %v in mm, %v in inches", at, x, y)
		return 1
	default:
		assert.Equal(t, a.Interface(), b.Interface(), at)
	}
	return n
}

// Every kind of quantity has its unit in both files, after the table of units
// in the documents.
func TestNamesOfUnits(t *testing.T) {
	for _, c := range []struct {
		q        Unit
		mm, inch string
	}{
		{Bare, "", ""}, {Length, "mm", "inch"}, {Move, "mm", "mil"}, {Angle, "mrad", "mrad"}, {Speed, "1/min", "1/min"},
		{Warmth, "°C", "°F"},
	} {
		assert.Equal(t, c.mm, c.q.In(train.Millimetres))
		assert.Equal(t, c.inch, c.q.In(train.Inches))
	}
}
