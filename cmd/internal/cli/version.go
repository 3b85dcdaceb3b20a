package cli

import (
	"fmt"
	"runtime"
	"runtime/debug"

	"github.com/spf13/cobra"
)

// newVersion is `leastmove version`.
func newVersion(s streams) *cobra.Command {
	return &cobra.Command{
		Use:     "version",
		Short:   "say which build of leastmove this is",
		Example: "  leastmove version",
		Args:    cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			info, _ := debug.ReadBuildInfo()
			return output{}.write(s, []byte(build(info)))
		},
	}
}

// versionOf is the program with its version.
func versionOf(info *debug.BuildInfo) string {
	if info == nil {
		return "leastmove"
	}
	return "leastmove " + info.Main.Version
}

// build is what is known about the build: version, commit and its date, tools. The info
// may be nil.
func build(info *debug.BuildInfo) string {
	version, commit, date, dirty := "(unknown)", "", "", ""
	if info != nil {
		version = info.Main.Version
		for _, s := range info.Settings {
			switch {
			case s.Key == "vcs.revision":
				commit = s.Value
			case s.Key == "vcs.time":
				date = " of " + s.Value
			case s.Key == "vcs.modified" && s.Value == "true":
				dirty = ", modified"
			}
		}
	}
	words := "leastmove " + version
	if commit != "" {
		words += " (commit " + commit + date + dirty + ")"
	}
	return fmt.Sprintf("%s, %s, %s/%s\n", words, runtime.Version(), runtime.GOOS, runtime.GOARCH)
}
