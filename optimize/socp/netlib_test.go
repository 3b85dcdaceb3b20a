package socp

import (
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Optima as published with the Netlib LP collection, netlib.org/lp/data.
func TestNetlib(t *testing.T) {
	folder := os.Getenv("LEASTMOVE_NETLIB")
	if folder == "" {
		folder = filepath.Join("..", "..", "..", "shared", "netlib")
	}
	if _, err := os.Stat(folder); err != nil {
		t.Skip("left out: the Netlib problems are not here; LEASTMOVE_NETLIB names their folder")
	}
	cases := []struct {
		name    string
		optimum float64
	}{
		{"afiro", -464.7531429},
		{"sc50a", -64.57507706},
		{"sc50b", -70},
		{"adlittle", 225494.9632},
		{"kb2", -1749.900130},
		{"blend", -30.81214985},
		{"share2b", -415.7322407},
		{"stocfor1", -41131.97622},
	}
	var s Solver
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			p := readMPS(t, filepath.Join(folder, c.name+".mps")).dual()
			r := s.Solve(p, Settings{})
			require.Equal(t, Optimal, r.Status)
			require.False(t, r.Relaxed)
			require.True(t, finite(r.Value))
			assert.InEpsilon(t, c.optimum, -r.Value, 1e-8)
		})
	}
}

// A standardForm is min c'x, Ax = b, x ≥ 0, A by columns.
type standardForm struct {
	b       []float64
	c       []float64
	columns [][]term
}

type term struct {
	row   int
	value float64
}

// dual is min −b'y, A'y + s = c, s ≥ 0: the negative of the dual's value.
func (f *standardForm) dual() *Program {
	p := &Program{Start: []int{0}, H: f.c}
	for _, b := range f.b {
		p.Cost, p.Bound = append(p.Cost, -b), append(p.Bound, math.Inf(1))
	}
	for _, column := range f.columns {
		p.Cones = append(p.Cones, 1)
		for _, e := range column {
			p.Col, p.Val = append(p.Col, e.row), append(p.Val, e.value)
		}
		p.Start = append(p.Start, len(p.Col))
	}
	return p
}

// readMPS reads what the chosen problems use of the format: no ranges, upper
// bounds only.
func readMPS(t *testing.T, name string) *standardForm {
	t.Helper()
	text, err := os.ReadFile(name)
	require.NoError(t, err)
	f := &standardForm{}
	kinds, rows, columns := map[string]string{}, map[string]int{}, map[string]int{}
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		require.NoError(t, err)
		return v
	}
	column := func(cost float64, terms ...term) {
		f.c, f.columns = append(f.c, cost), append(f.columns, terms)
	}
	section, objective := "", ""
	for line := range strings.Lines(string(text)) {
		words := strings.Fields(line)
		if len(words) == 0 || line[0] == '*' {
			continue
		}
		if line[0] != ' ' {
			section = words[0]
			continue
		}
		switch section {
		case "ROWS":
			kinds[words[1]] = words[0]
			if words[0] == "N" {
				objective = words[1]
				continue
			}
			rows[words[1]] = len(f.b)
			f.b = append(f.b, 0)
			switch words[0] {
			case "L":
				column(0, term{len(f.b) - 1, 1})
			case "G":
				column(0, term{len(f.b) - 1, -1})
			}
		case "COLUMNS":
			j, known := columns[words[0]]
			if !known {
				j = len(f.c)
				columns[words[0]] = j
				column(0)
			}
			for i := 1; i+1 < len(words); i += 2 {
				if words[i] == objective {
					f.c[j] = number(words[i+1])
				} else {
					f.columns[j] = append(f.columns[j], term{rows[words[i]], number(words[i+1])})
				}
			}
		case "RHS":
			for i := len(words) % 2; i+1 < len(words); i += 2 {
				require.NotEqual(t, objective, words[i])
				f.b[rows[words[i]]] = number(words[i+1])
			}
		case "BOUNDS":
			require.Equal(t, "UP", words[0])
			j := columns[words[len(words)-2]]
			f.b = append(f.b, number(words[len(words)-1]))
			f.columns[j] = append(f.columns[j], term{len(f.b) - 1, 1})
			column(0, term{len(f.b) - 1, 1})
		default:
			require.Equal(t, "ENDATA", section)
		}
	}
	return f
}
