package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/bolts"
	"leastmove/cmd/internal/cli"
	"leastmove/cmd/internal/planjson"
	"leastmove/testdata/families"
	"leastmove/train/trainfile"
)

const schemaFolder = "../../testdata/schema"

// schemas are all that the program writes, by their names on its command line.
func schemas() map[string]map[string]any {
	all := map[string]map[string]any{"train-file": trainfile.Schema()}
	for _, command := range planjson.Documented() {
		all[command] = planjson.Schema(command)
	}
	return all
}

// tighten forbids keys that a schema does not name.
func tighten(v any) {
	switch v := v.(type) {
	case map[string]any:
		if _, is := v["properties"]; is {
			v["additionalProperties"] = false
		}
		for _, below := range v {
			tighten(below)
		}
	case []any:
		for _, below := range v {
			tighten(below)
		}
	}
}

// compiled is a schema as its outside reader has it, which also holds it against
// the draft.
func compiled(t *testing.T, schema map[string]any) *jsonschema.Schema {
	text, err := json.Marshal(schema)
	require.NoError(t, err)
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	require.NoError(t, c.AddResource("form.json", doc))
	s, err := c.Compile("form.json")
	require.NoError(t, err)
	return s
}

// fromTOML is a train file as a schema sees it; false where it is not one at all.
func fromTOML(t *testing.T, text []byte) (any, bool) {
	var values map[string]any
	if toml.Unmarshal(text, &values) != nil {
		return nil, false
	}
	again, err := json.Marshal(values)
	if err != nil {
		return nil, false // nan or inf
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(again))
	require.NoError(t, err)
	return doc, true
}

// The stored schemas are those that the program writes.
func TestSchemasAreStored(t *testing.T) {
	for name := range schemas() {
		var want, stderr bytes.Buffer
		require.Zero(t, cli.Run([]string{"schema", name}, strings.NewReader(""), &want, &stderr), stderr.String())
		path := filepath.Join(schemaFolder, name+".schema.json")
		if *update {
			require.NoError(t, os.WriteFile(path, want.Bytes(), 0o666))
		}
		stored, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, want.String(), string(stored), "write it anew with -run Schema -update")
	}
	files, err := os.ReadDir(schemaFolder)
	require.NoError(t, err)
	assert.Len(t, files, len(schemas()))
}

// What the reader takes the schema takes, every key of the tables among it; what
// has keys that do not exist or values of the wrong kind it refuses.
func TestSchemaOfTrainFile(t *testing.T) {
	s := compiled(t, trainfile.Schema())
	options := trainfile.Options{
		ClearanceHole: bolts.ClearanceHole, Thread: bolts.Thread, Minor: bolts.Minor,
		File: func(string) ([]byte, error) { return []byte("0,0\n90,0\n180,0\n"), nil },
	}
	var files []string
	for _, pattern := range []string{"../../examples/*/before.toml", "../internal/pages/testdata/*.toml",
		"../../train/trainfile/testdata/*.toml", "../../testdata/faulty/*.toml"} {
		more, err := filepath.Glob(pattern)
		require.NoError(t, err)
		files = append(files, more...)
	}
	texts := map[string][]byte{}
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		texts[file] = text
	}
	for _, family := range families.Names() {
		for seed := range uint64(5) {
			texts[fmt.Sprint(family, seed)] = []byte(families.TOML(family, seed))
		}
	}
	taken, refused := 0, 0
	for name, text := range texts {
		doc, is := fromTOML(t, text)
		if !is {
			continue
		}
		err := s.Validate(doc)
		if tr, _ := trainfile.Read(name, text, options); tr != nil {
			taken++
			assert.NoError(t, err, name)
		} else if err != nil {
			refused++
		}
	}
	assert.Greater(t, taken, 20)
	assert.Greater(t, refused, 20, "of the faulty files those that break a single key")
	for _, name := range []string{"key-unknown.toml", "foot-misspelt.toml", "missing-keys.toml", "absurd.toml",
		"limit-zero.toml"} {
		doc, is := fromTOML(t, texts[name])
		require.True(t, is, name)
		assert.Error(t, s.Validate(doc), name)
	}
}

// Every table of a train file refuses a key that it does not have.
func TestSchemaKnowsEveryTable(t *testing.T) {
	text, err := os.ReadFile("../../train/trainfile/testdata/whole.toml")
	require.NoError(t, err)
	s := compiled(t, trainfile.Schema())
	doc, is := fromTOML(t, text)
	require.True(t, is)
	require.NoError(t, s.Validate(doc))
	corrupted := 0
	var corrupt func(v any, path string)
	corrupt = func(v any, path string) {
		switch v := v.(type) {
		case map[string]any:
			if filepath.Base(path) != "machine" || v["name"] != nil { // the shares of a condition have names of the user's
				v["no such key"] = 1
				corrupted++
				assert.Error(t, s.Validate(doc), path)
				delete(v, "no such key")
			}
			for _, k := range slices.Sorted(maps.Keys(v)) {
				corrupt(v[k], path+"/"+k)
			}
		case []any:
			for _, below := range v {
				corrupt(below, path)
			}
		}
	}
	corrupt(doc, "")
	assert.Greater(t, corrupted, len(trainfile.Tables()))
}

// What the program writes in JSON keeps to its schema and has no key that the
// schema does not name; every result in JSON that a test has stored has a schema.
func TestSchemasOfResults(t *testing.T) {
	byName := tightened(t)
	holds := func(where string, text []byte) any {
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
		require.NoError(t, err, where)
		name, _ := doc.(map[string]any)["schema"].(string)
		require.NotNil(t, byName[name], "%s is a %q, which documents() in cmd/internal/planjson does not know", where, name)
		assert.NoError(t, byName[name].Validate(doc), where)
		return doc
	}
	stored, err := filepath.Glob("../internal/pages/testdata/*.json")
	require.NoError(t, err)
	require.NotEmpty(t, stored)
	for _, file := range stored {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		holds(file, text)
	}
	examples, err := filepath.Glob("../../examples/*/before.toml")
	require.NoError(t, err)
	require.NotEmpty(t, examples)
	for _, file := range examples {
		for _, command := range []string{"plan", "check"} {
			doc := holds(command+" "+file, []byte(runOnce(command, file, "--format", "json").out)).(map[string]any)
			s := byName[doc["schema"].(string)]
			for _, c := range []struct {
				why     string
				corrupt func(map[string]any)
			}{
				{"a key that does not exist", func(d map[string]any) { d["totl"] = 1 }},
				{"no couplings", func(d map[string]any) { delete(d, "couplings") }},
				{"words for a number", func(d map[string]any) { d["use"] = "0.7" }},
				{"another form", func(d map[string]any) { d["schema"] = "leastmove.plan/2" }},
				{"a foot of a train", func(d map[string]any) { d["couplings"].([]any)[0].(map[string]any)["feet"] = []any{} }},
			} {
				corrupted := maps.Clone(doc)
				c.corrupt(corrupted)
				assert.Error(t, s.Validate(corrupted), c.why)
			}
		}
	}
}
