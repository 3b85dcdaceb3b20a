package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"leastmove/testdata/trains"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"leastmove": main})
}

// TestScripts runs the program as a user does, with mm.toml and inch.toml, the
// trains that the reports are tested with.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata",
		RequireExplicitExec: true,
		Condition: func(name string) (bool, error) {
			switch name {
			case "root": // whom no permission stops
				return os.Geteuid() == 0, nil
			case "all": // what makes many plans, or starts the program many times
				return trains.Everything(), nil
			}
			return false, fmt.Errorf("no condition %s", name)
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"exit": exit,
		},
		Setup: func(env *testscript.Env) error {
			trains, err := filepath.Glob("../internal/pages/testdata/*.toml")
			if err != nil {
				return err
			}
			for _, train := range trains {
				text, err := os.ReadFile(train)
				if err != nil {
					return err
				}
				if err := os.WriteFile(filepath.Join(env.WorkDir, filepath.Base(train)), text, 0o666); err != nil {
					return err
				}
			}
			return nil
		},
	})
}

// exit runs a command and asks for its exit code: exit CODE PROGRAM ARGUMENTS.
func exit(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exit CODE PROGRAM ARGUMENTS")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	err = ts.Exec(args[1], args[2:]...)
	got := 0
	var ended *exec.ExitError
	if errors.As(err, &ended) {
		got = ended.ExitCode()
	} else {
		ts.Check(err)
	}
	if got != want {
		ts.Fatalf("exit code %d, not %d", got, want)
	}
}
