// Command leastmove plans the moves of a train of coupled machines: the least
// total foot movement that brings every coupling within its limits.
package main

import (
	"os"

	"leastmove/cmd/internal/cli"
)

func main() {
	os.Exit(cli.Run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
