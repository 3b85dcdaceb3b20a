package doc

// A Builder makes a document block by block, in the order in which it is read.
type Builder struct {
	Doc  Doc
	Mark string // beside every heading that follows
	now  *Section
}

// Put adds blocks to the section that was started last.
func (b *Builder) Put(blocks ...Block) {
	if b.now != nil {
		b.now.Blocks = append(b.now.Blocks, blocks...)
		return
	}
	b.Doc.Blocks = append(b.Doc.Blocks, blocks...)
}

// Heading starts a section.
func (b *Builder) Heading(words string) { b.Section(words) }

// Section starts one with labels of what is to be written in by hand.
func (b *Builder) Section(heading string, blanks ...string) {
	b.now = &Section{Heading: heading, Mark: b.Mark, Blanks: blanks}
	b.Doc.Blocks = append(b.Doc.Blocks, b.now)
}

// Subheading is one within the section.
func (b *Builder) Subheading(words string) { b.Put(Subheading{words}) }

// Say says sentences.
func (b *Builder) Say(words string) { b.Put(Paragraph{Words: words}) }

// Says says a paragraph of each.
func (b *Builder) Says(all []string) {
	for _, words := range all {
		b.Say(words)
	}
}

// SayIn says sentences that text sets in.
func (b *Builder) SayIn(words string) { b.Put(Paragraph{Words: words, In: 1}) }

// Space is an empty line of text.
func (b *Builder) Space() { b.Put(Space{}) }

// Item adds to the list that the section ends with, or starts one.
func (b *Builder) Item(words string) {
	blocks := &b.Doc.Blocks
	if b.now != nil {
		blocks = &b.now.Blocks
	}
	if n := len(*blocks); n > 0 {
		if list, is := (*blocks)[n-1].(*List); is && list.Kind == Bullets && list.In == 0 {
			list.Items = append(list.Items, []string{words})
			return
		}
	}
	b.Put(&List{Items: [][]string{{words}}})
}

// Items adds some.
func (b *Builder) Items(all ...string) {
	for _, words := range all {
		b.Item(words)
	}
}

// Checks are things to tick off, each on lines of its own.
func (b *Builder) Checks(all []string) { b.checks(Checks, all) }

// ShortChecks are some that stand side by side as far as they fit.
func (b *Builder) ShortChecks(all []string) { b.checks(Short, all) }

func (b *Builder) checks(kind ListKind, all []string) {
	list := &List{Kind: kind}
	for _, words := range all {
		list.Items = append(list.Items, []string{words})
	}
	b.Put(list)
}

// Table is a table.
func (b *Builder) Table(t Table) { b.Put(&t) }

// Tables are tables, one after the other.
func (b *Builder) Tables(all []Table) {
	for _, t := range all {
		b.Table(t)
	}
}
