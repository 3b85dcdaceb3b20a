package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/families"
)

// tightened are the schemas of all results by the schema that a result names, each
// forbidding keys that it does not have.
func tightened(t *testing.T) map[string]*jsonschema.Schema {
	byName := map[string]*jsonschema.Schema{}
	for command, schema := range schemas() {
		if command == "train-file" {
			continue
		}
		name := schema["properties"].(map[string]any)["schema"].(map[string]any)["const"].(string)
		text, err := json.Marshal(schema)
		require.NoError(t, err)
		var own map[string]any
		require.NoError(t, json.Unmarshal(text, &own))
		tighten(own)
		byName[name] = compiled(t, own)
	}
	return byName
}

// Every command's JSON keeps to its schema for trains that are drawn: with a plan and
// without one, with a knee and without one, an option taken, moves given, and a train as it
// is when none of the moves were made. Little work keeps it short; what a result has does not
// depend on that.
func TestDrawnResultsKeepToTheirSchemas(t *testing.T) {
	byName, folder := tightened(t), t.TempDir()
	seen := map[string]int{}
	run := func(args ...string) map[string]any {
		var out, stderr bytes.Buffer
		code := sharing(append(args, "--format", "json"), strings.NewReader(""), &out, &stderr)
		require.Contains(t, []int{0, 3, 4}, code, "%v: %s", args, stderr.String())
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(out.Bytes()))
		require.NoError(t, err, args)
		result := doc.(map[string]any)
		name, _ := result["schema"].(string)
		require.NotNil(t, byName[name], "%v: %q", args, name)
		assert.NoError(t, byName[name].Validate(doc), args)
		seen[name]++
		if status, is := result["status"].(string); is {
			seen[status]++
		}
		return result
	}
	for _, family := range []string{"two", "held", "tight", "bound", "nozzle", "degenerate"} {
		file := filepath.Join(folder, family+".toml")
		require.NoError(t, os.WriteFile(file, []byte(families.TOML(family, 0)), 0o666))
		run("check", file)
		plan := run("plan", file, "--work", "200")
		if plan["relief"] != nil {
			run("plan", file, "--work", "200", "--relieve", "1")
			seen["relief"]++
		}
		if plan["status"] == "planned" {
			written := filepath.Join(folder, family+".json")
			text, err := json.Marshal(plan)
			require.NoError(t, err)
			require.NoError(t, os.WriteFile(written, text, 0o666))
			run("plan", file, "--plan", written, "--work", "200")
			if run("verify", written, file)["remaining"] != nil {
				seen["remaining"]++
			}
		}
		if family == "nozzle" || family == "bound" {
			continue // they take longest
		}
		trade, _ := run("compare", file, "--subsets", "--trade", "--work", "5")["trade"].(map[string]any)
		require.NotNil(t, trade)
		seen[fmt.Sprintf("knee %T", trade["knee"])]++
	}
	for _, what := range []string{
		"leastmove.check/1", "leastmove.plan/1", "leastmove.compare/1", "leastmove.verify/1",
		"planned", "impossible", "tried", "relief", "remaining", "knee <nil>", "knee json.Number",
	} {
		assert.Positive(t, seen[what], what)
	}
}
