package cli

import (
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The help of each command has the codes that it can end with.
func TestExitCodesInHelp(t *testing.T) {
	line := regexp.MustCompile(`(?m)^  ([0-9]+) +\S`)
	planning := []int{exitDone, exitFault, exitInput, exitImpossible, exitUndecided, exitInterrupted}
	for command, want := range map[string][]int{
		"plan": planning, "report": planning, "chart": planning, "sheet": planning, "leastmove": planning,
		"check":    {exitDone, exitFault, exitInput, exitInterrupted},
		"readings": {exitDone, exitFault, exitInput, exitInterrupted},
		"compare":  {exitDone, exitFault, exitInput, exitInterrupted},
		"verify":   {exitDone, exitFault, exitInput, exitImpossible, exitUndecided, exitInterrupted},
		"new":      {exitDone, exitFault, exitInput},
		"schema":   {exitDone, exitFault, exitInput},
		"version":  {exitDone, exitFault, exitInput},
	} {
		var got []int
		for _, m := range line.FindAllStringSubmatch(exitText(command), -1) {
			n, err := strconv.Atoi(m[1])
			assert.NoError(t, err)
			got = append(got, n)
		}
		assert.Equal(t, want, got, command)
	}
}

// A command that exits names otherwise than by its name would have the help of plan.
func TestExitsNameCommands(t *testing.T) {
	names := map[string]bool{}
	for _, c := range newRoot(streams{}).Commands() {
		names[c.Name()] = true
	}
	for _, e := range exits() {
		for command := range e.of {
			assert.True(t, names[command], command)
		}
	}
}
