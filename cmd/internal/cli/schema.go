package cli

import (
	"bytes"
	"fmt"

	"github.com/spf13/cobra"

	"leastmove/cmd/internal/planjson"
	"leastmove/cmd/internal/words"
	"leastmove/train/trainfile"
)

// schemaOfFile is the name of the train file among the schemas.
const schemaOfFile = "train-file"

// newSchema is `leastmove schema`.
func newSchema(s streams) *cobra.Command {
	forms := append([]string{schemaOfFile}, planjson.Documented()...)
	var path string
	c := &cobra.Command{
		Use:   "schema FORM",
		Short: "write the JSON Schema of the train file or of a result",
		Long: fmt.Sprintf(`Write the JSON Schema (draft 2020-12) of the train file, for editors that know
TOML, or of what a command writes with --format json.
FORM is %s.`, words.Or(forms)),
		Example: `  leastmove schema train-file -o train-file.schema.json
  leastmove schema plan`,
		ValidArgs: forms,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return fmt.Errorf("name one FORM: %s", words.Or(forms))
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			schema := planjson.Schema(args[0])
			if args[0] == schemaOfFile {
				schema = trainfile.Schema()
			}
			if schema == nil {
				err := fmt.Errorf("there is no schema of %q: there are %s", args[0], words.And(forms))
				return unknown(err, args[0], forms)
			}
			out, err := (&source{}).output("-o", path)
			if err != nil {
				return err
			}
			var text bytes.Buffer
			if err := planjson.Write(&text, schema); err != nil {
				return &ending{exitFault, err}
			}
			return out.write(s, text.Bytes())
		},
	}
	c.Flags().StringVarP(&path, "output", "o", "",
		"`file` that the schema goes to, written whole or not at all (default: the standard output)")
	return c
}
