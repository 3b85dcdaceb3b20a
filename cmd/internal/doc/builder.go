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
func (b *Builder) Heading(words string) {
	b.now = &Section{Heading: words, Mark: b.Mark}
	b.Doc.Blocks = append(b.Doc.Blocks, b.now)
}

// Subheading is one within the section.
func (b *Builder) Subheading(words string) { b.Put(Subheading{words}) }

// Say says sentences.
func (b *Builder) Say(words string) { b.Put(Paragraph{Words: words}) }

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

// Table is a table.
func (b *Builder) Table(t Table) { b.Put(&t) }
