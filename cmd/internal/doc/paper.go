package doc

// A Paper is a size of paper.
type Paper string

// The papers.
const (
	A4     Paper = "a4"
	Letter Paper = "letter"
)

// Papers lists them.
func Papers() []string { return []string{string(A4), string(Letter)} }

// name is what both CSS and the PDF library call it.
func (p Paper) name() string {
	if p == Letter {
		return "Letter"
	}
	return "A4"
}
