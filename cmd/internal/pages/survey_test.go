package pages

import (
	"bytes"
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/view"
)

// testdata/surveyed.toml says in its comments how the shafts lie. The survey and what
// was read at its two couplings agree but for 0.3 mm of height read at the second.
func TestSurveyGolden(t *testing.T) {
	tr := read(t, "surveyed.toml")
	var text, csv, check bytes.Buffer
	require.NoError(t, ReadingsText(&text, view.CheckOf(tr), Page{}))
	require.NoError(t, ReadingsCSV(&csv, view.CheckOf(tr), Page{}))
	require.NoError(t, checkJSON(&check, view.CheckOf(tr), Page{}))
	golden(t, "surveyed.txt", text.Bytes())
	golden(t, "surveyed.csv", csv.Bytes())
	golden(t, "surveyed.json", check.Bytes())
	for _, row := range []string{ // by hand, from the lines in the comments
		",point,a,500,,10.000,,5.000,,mm\n",
		"first,survey offset,,1500,,0.100,", "first,survey angle,,1500,,0.000,",
		"first,survey less read offset,,1500,,0.000,", "second,survey less read offset,,3500,,-0.300,",
		"second,closure error offset,,3500,,-0.300,",
		"third,survey offset,,5500,,0.050,", // 10.25 - 10.20
	} {
		assert.Contains(t, csv.String(), row)
	}
	s := flat(text.String())
	assert.Contains(t, s, `- from coupling "first" to coupling "second", at x = 3500: up and down 0.300 low`)
	assert.Contains(t, s,
		`- check failed: at coupling "second" survey and what is given as found differ by 0.3 mm, over 0.1 mm`)
	var doc struct {
		Survey struct {
			Couplings []struct{ Used bool }
			Checks    []struct{ Kind string }
		}
	}
	require.NoError(t, json.Unmarshal(check.Bytes(), &doc))
	require.Len(t, doc.Survey.Couplings, 3)
	assert.False(t, doc.Survey.Couplings[0].Used)
	assert.True(t, doc.Survey.Couplings[2].Used)
	require.Len(t, doc.Survey.Checks, 2)
	assert.Equal(t, []string{"survey", "round"}, []string{doc.Survey.Checks[0].Kind, doc.Survey.Checks[1].Kind})
}

// A warning of the file of bands says which file it is about.
func TestWarningsOfBands(t *testing.T) {
	layout := Page{Input: view.Input{Warnings: []view.Warning{
		{File: "plant.toml", Line: 3, Message: "a band"}, {Line: 4, Message: "a train"},
	}}}
	tr := read(t, "mm.toml")
	var text, check bytes.Buffer
	require.NoError(t, CheckText(&text, view.CheckOf(tr), layout))
	assert.Contains(t, text.String(), "- plant.toml, line 3: a band\n- line 4: a train\n")
	require.NoError(t, checkJSON(&check, view.CheckOf(tr), layout))
	assert.Contains(t, check.String(), `"file": "plant.toml"`)
}
