package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
)

// A question is one train for the outside solvers; see testdata/referee.
type question struct {
	Text   string   `json:"text"`
	Use    float64  `json:"use"` // share of the coupling limits
	With   []string `json:"with"`
	Repeat int      `json:"repeat,omitempty"` // runs, whose times are medians
	Limit  float64  `json:"limit,omitempty"`  // s, for each MIP
	Gap    float64  `json:"gap,omitempty"`    // relative, that ends a MIP
	Sides  string   `json:"sides,omitempty"`
}

// An answer is what one outside solver says. Values are in the file's unit of
// movement, uses are ratios.
type answer struct {
	Status     string   `json:"status"` // optimal, infeasible, feasible, unknown
	Value      *float64 `json:"value"`
	Bound      *float64 `json:"bound"`
	Seconds    float64  `json:"seconds"`
	Tolerance  float64  `json:"tolerance"` // above 0 where the usual one was given up
	Iterations int      `json:"iterations"`
}

type answers struct {
	Error          string   `json:"error"`
	Found          float64  `json:"found"` // worst use as found
	Relaxed        answer   `json:"relaxed"`
	Lowest         answer   `json:"minmax"`
	Cuts           answer   `json:"cuts"`
	CutsLowest     answer   `json:"cuts-minmax"`
	LP             answer   `json:"lp"`
	CBC            answer   `json:"cbc"`
	Glpsol         answer   `json:"glpsol"`
	Inner          answer   `json:"mip inner"`
	Outer          answer   `json:"mip outer"`
	Contradictions []string `json:"contradictions"`
}

// A referee is a process of outside solvers, asked one question at a time.
type referee struct {
	process  *exec.Cmd
	in       io.WriteCloser
	out      *bufio.Reader
	versions map[string]string
}

// start starts a referee; the interpreter is the one that has the solvers.
func start(python, script string) (*referee, error) {
	c := exec.Command(python, script, "stream")
	c.Stderr = os.Stderr
	in, err := c.StdinPipe()
	if err != nil {
		return nil, err
	}
	out, err := c.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := c.Start(); err != nil {
		return nil, err
	}
	r := &referee{process: c, in: in, out: bufio.NewReaderSize(out, 1<<20)}
	return r, r.read(&r.versions)
}

func (r *referee) read(into any) error {
	line, err := r.out.ReadBytes('\n')
	if err != nil {
		return fmt.Errorf("the referee ended: %w", err)
	}
	return json.Unmarshal(line, into)
}

// send and receive are the halves of ask, for who has something to do in
// between.
func (r *referee) send(q question) error {
	text, err := json.Marshal(q)
	if err != nil {
		return err
	}
	_, err = r.in.Write(append(text, '\n'))
	return err
}

func (r *referee) receive() (answers, error) {
	var a answers
	err := r.read(&a)
	if err == nil && a.Error != "" {
		err = fmt.Errorf("the referee: %s", a.Error)
	}
	return a, err
}

func (r *referee) ask(q question) (answers, error) {
	if err := r.send(q); err != nil {
		return answers{}, err
	}
	return r.receive()
}

func (r *referee) stop() error {
	if err := r.in.Close(); err != nil {
		return err
	}
	return r.process.Wait()
}
