// Package doc is a document and what it is written as: text, HTML, Markdown and
// PDF. It knows headings, sentences, lists, tables, figures and room to write in,
// and nothing of what they are about. The same document always gives the same bytes.
//
// Names within words stand between Isolate and Resume, so that one that is written
// from right to left does not turn what is beside it; formats without such a thing
// leave the two characters out.
package doc

// A Doc is a document. What stands in Blocks before the first section belongs to
// the title.
type Doc struct {
	Title    string   // heading of the whole
	Name     string   // of the window, or of the file; "": the title
	Short    string   // the title at the foot of every sheet of paper; "": the title
	State    string   // at the foot of every sheet of paper, before the title: what holds of all of it; "": nothing
	Facts    []Fact   // title block: what the document is about
	Blanks   []string // under the title, to be written in by hand
	Foot     []string // at the end, and at the foot of every sheet of paper
	Running  string   // at the foot of every printed page of HTML; "": nothing
	Numbered bool     // sections have numbers, and letters in the appendix
	Blocks   []Block
}

// A Block is one of the types below.
type Block interface{ block() }

// A Section is what stands under a heading; one within another has a lower heading.
// On paper it is kept whole where it fits on a sheet.
type Section struct {
	Anchor  string // name that links lead to; "": none
	Heading string // "": none
	Mark    string // in brackets beside the heading: what the section depends on
	Folded  bool   // a reader opens it on the screen, a link to it does too; on paper it is open
	// Elsewhere says where to find a folded section that is not printed; it stands after the heading. "": it is printed.
	Elsewhere string
	Blanks    []string
	Blocks    []Block
}

// A Subheading is a heading within a section, over what follows.
type Subheading struct{ Words string }

// A Paragraph is sentences. In is how many steps text is set in by.
type Paragraph struct {
	Words string
	In    int
}

// A List has items of one paragraph or more.
type List struct {
	Kind  ListKind
	Items [][]string
	In    int  // steps that text is set in by
	Loose bool // in text an empty line stands before each item
}

// A ListKind is what stands before the items of a list.
type ListKind int

// The kinds.
const (
	Bullets ListKind = iota
	Numbers          // 1, 2, 3
	Checks           // boxes to tick off
	Short            // boxes to tick off, of short items, as many side by side as fit
)

// Facts are rows of a name and what it is.
type Facts []Fact

// A Fact is one of them.
type Fact struct {
	Name, Value string
	IsName      bool // the value is a name, with its own direction
}

// Blanks are labels with room to write beside each: names, times, signatures.
type Blanks []string

// A Figure is a drawing.
type Figure struct {
	Anchor string
	Title  string
	Alt    string   // for those who do not see it
	SVG    [][]byte // as files have it, in parts below one another: a sheet of paper may end between two
	Narrow []byte   // the same for a narrow screen, as a file has it; nil: there is none
	PNG    []byte   // for paper; nil: left out there
}

// A Fold is what a reader may leave closed on the screen. On paper it is open.
type Fold struct {
	Heading string
	Open    bool // to begin with
	Blocks  []Block
}

// A Choice shows one of some options on the screen, the first to begin with. On paper it is left out.
type Choice struct {
	Anchor  string
	Legend  string
	Options []Option
}

// An Option is one of them.
type Option struct {
	Label  string
	Blocks []Block
}

// MostOptions is how many options a choice has at most.
const MostOptions = 9

// A Hold is a frame about what has to be signed for before anything else is done.
type Hold struct {
	Heading string
	Blanks  []string
	Blocks  []Block
}

// Lines are lines as they are, each with its number where they are numbered.
type Lines struct {
	Lines    []string
	Numbered bool
	Flush    bool // text does not set them in
}

// A See leads to a section by its anchor. It is left out where there is none.
type See struct {
	Before string // what stands before the link
	Anchor string
	Words  string // of the link; the section's number follows
}

// Contents is the place of the list of sections.
type Contents struct{}

// An Appendix begins the appendix.
type Appendix struct{ Words string }

// A PageBreak ends a sheet of paper.
type PageBreak struct{}

// A Space is an empty line of text; other formats have their own room between blocks.
type Space struct{}

func (*Section) block()   {}
func (Subheading) block() {}
func (Paragraph) block()  {}
func (*List) block()      {}
func (Facts) block()      {}
func (Blanks) block()     {}
func (*Table) block()     {}
func (*Figure) block()    {}
func (*Fold) block()      {}
func (*Choice) block()    {}
func (*Hold) block()      {}
func (Lines) block()      {}
func (See) block()        {}
func (Contents) block()   {}
func (Appendix) block()   {}
func (PageBreak) block()  {}
func (Space) block()      {}
