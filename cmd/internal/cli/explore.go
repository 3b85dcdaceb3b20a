package cli

import (
	"errors"
	"fmt"
	"os/signal"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"leastmove/cmd/internal/explore"
)

// newExplore is `leastmove explore`.
func newExplore(s streams) *cobra.Command {
	closed, bands, limit := false, "", time.Duration(0)
	c := &cobra.Command{
		Use:   "explore FILE...",
		Short: "ask \"what if\" of a train on a page in the browser",
		Long: `Serve a page on this computer alone and open it in the browser: the plan of the
train, and what becomes of it if a machine stays, a hole is opened, a limit,
growth or a reading is another, or moves are typed by hand. Answers stand side
by side, changes can be undone one by one, and are written as a train file,
plan, report or work order. The page follows the file as it is saved in an
editor, and writes it only when asked. It ends with Ctrl-C, or when asked on the
page.`,
		Example: `  leastmove explore train.toml
  leastmove explore train.toml --no-open   print the address alone
  leastmove explore a.toml b.toml          several trains, one address each`,
		Args: func(_ *cobra.Command, args []string) error {
			switch {
			case len(args) == 0:
				return errors.New("no FILE: name a train file")
			case len(args) > explore.MostTrains:
				return fmt.Errorf("%d files: at most %d at a time", len(args), explore.MostTrains)
			}
			for _, name := range args {
				switch name {
				case "":
					return errors.New("FILE is empty")
				case "-":
					return errors.New("the page follows a file: the standard input is none")
				}
			}
			return nil
		},
		ValidArgsFunction: completeFiles,
	}
	c.Flags().BoolVar(&closed, "no-open", false, "print the address and open no browser")
	c.Flags().StringVar(&bands, "bands", "",
		"`file` of limits by speed ([[band]]), for trains that have none of their own")
	filesOf(c, "bands", "toml")
	c.Flags().DurationVar(&limit, "time-limit", 2*time.Minute,
		"most `time` for one question, like 5s or 2m; then the page shows what is known")
	c.RunE = func(_ *cobra.Command, args []string) error {
		if limit <= 0 {
			return &ending{exitInput, fmt.Errorf("--time-limit is %s: it is above 0, like 5s or 2m", limit)}
		}
		var all []explore.Program
		for _, name := range args {
			x, err := s.explored(name, bands)
			if err != nil {
				return err
			}
			all = append(all, x)
		}
		ctx, stop := s.interruptible()
		defer stop()
		ctx, quit := signal.NotifyContext(ctx, syscall.SIGTERM)
		defer quit()
		if err := explore.Serve(ctx, all, explore.Settings{Out: s.out, Err: s.err, Open: !closed, Limit: limit}); err != nil {
			return fault(err)
		}
		return nil
	}
	return c
}

// explored is a train file for the page. A file that has faults is taken: the page shows them.
func (s streams) explored(name, bands string) (*explored, error) {
	if _, _, err := s.text(name); err != nil {
		return nil, &ending{exitInput, err}
	}
	plant, _, err := s.plant(name, bands)
	if err != nil {
		return nil, &ending{exitInput, err}
	}
	s.kept = new(Kept)
	return &explored{streams: s, file: name, bands: plant}, nil
}

// Explored is a train file for the page, as the command has it.
func Explored(file string) explore.Program {
	return &explored{streams: streams{kept: new(Kept)}, file: file}
}
