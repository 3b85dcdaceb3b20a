package doc

import "strings"

// Isolate and Resume stand before and after a name.
const (
	Isolate = "\u2068"
	Resume  = "\u2069"
)

// Bare is a text without the characters that stand about names.
func Bare(words string) string {
	return strings.NewReplacer(Isolate, "", Resume, "").Replace(words)
}

// typeset is a text as it is set in type: outside names an arrow is one character, and no line ends at it.
func typeset(words string) string {
	pieces := strings.Split(words, Isolate)
	for n, piece := range pieces {
		name, rest, named := strings.Cut(piece, Resume)
		if n == 0 || !named {
			name, rest = "", piece
		} else {
			name += Resume
		}
		pieces[n] = name + strings.ReplaceAll(rest, " -> ", "\u00a0→\u00a0")
	}
	return strings.Join(pieces, Isolate)
}

// either is a text, or another where there is none.
func either(s, other string) string {
	if s != "" {
		return s
	}
	return other
}

func mapped(all []string, f func(string) string) []string {
	out := make([]string, len(all))
	for i, s := range all {
		out[i] = f(s)
	}
	return out
}

// marked is a section's heading with what it depends on.
func (s *Section) marked() string {
	if s.Mark == "" {
		return s.Heading
	}
	return s.Heading + " (" + s.Mark + ")"
}

// blank is room to write in formats that have no lines for it.
const blank = "........"

// roomy is a label and room to write.
func roomy(label string) string { return strings.TrimSpace(label + " " + blank) }

// roomier is one with room for a name.
func roomier(label string) string { return label + " " + blank + blank }

// written is a cell in formats without boxes.
func (c Cell) written(plain func(string) string) string {
	if c.Write == nil {
		return plain(c.Text)
	}
	return strings.Join(mapped(mapped(c.Write, plain), roomy), " ")
}
