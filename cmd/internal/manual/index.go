package manual

import (
	"fmt"
	"slices"
	"strings"

	"leastmove/cmd/internal/doc"
)

// An entry of the index leads from a word of the trade to a part of the manual.
type entry struct {
	words   string // as they are asked for, with commas between them
	page    string
	heading string // of the part; "": the whole page
}

// index has words that are not the names of pages.
func index() []entry {
	return []entry{
		{"reverse dials,reverse dial,reverse indicator,reverse", "readings", "Dials and what they show"},
		{"rim and face,rim face,rim,face,dials,dial,clock,clock positions", "readings", "Dials and what they show"},
		{"indicator,dial indicator,tir,total indicator reading,backlash,runout,closed coupling", "readings",
			"Dials and what they show"},
		{"sag,bar sag,bracket,sag bar", "readings", "What corrects them, and how good they are"},
		{"end float,float,axial float,floating", "readings", "What corrects them, and how good they are"},
		{"laser,offsets", "readings", "Dials and what they show"},
		{"survey,tracker,theodolite,optical", "readings", "A survey"},
		{"growth,thermal growth,thermal,expansion,stretch,pedestal,hot,cold,temperature,rise", "readings",
			"Growth and journal shift"},
		{"journal shift,running shift,run,journal,clearance", "readings", "Growth and journal shift"},
		{"bearing,bearings,plain bearing,rolling bearing,sleeve,sleeve bearing", "readings", "Growth and journal shift"},
		{"checks,closure,closure error", "readings", "Checks"},
		{"bolt bound,bolt,hole,room,travel,sideways,obstruction", "start", "What is rarer"},
		{"base bound,no shims", "start", "What is rarer"},
		{"soft foot", "method", "Soft foot and cold readings"},
		{"gear,gears,gearbox,shaft,roll", "start", "What is rarer"},
		{"nozzle,nozzles,pipe strain,pipe,spacer,spool,spool piece,disc pack,jackshaft,dbse,level", "start", "What is rarer"},
		{"stock,shims,shim pack", "start", "What is rarer"},
		{"next visit,from", "start", "For the next visit"},
		{"tolerance,tolerances,limit,coupling limits", "limits", ""},
		{"which way,direction,directions,signs,frame,unit,units,mm,inch,mil,mils,thou,mrad,left,right,sides,station," +
			"angularity,vertical,horizontal,yaw,pitch", "signs", ""},
		{"schema,editor,vscode,taplo", "editors", ""},
		{"exit codes,exit code", "commands", "Exit codes"},
		{"bands,band", "commands", "Limits by speed from a file of their own"},
		{"conflict,options,relieve,relief", "no-plan", ""},
		{"chance,assure", "plan", "A chance that is asked for"},
		{"errors,error,accuracy,uncertainty,half width,placing", "train-file", "`[errors]`"},
		{"proof,proven,bound,gap", "method", "What is proven"},
		{"hold,held,can't move", "start", "What is rarer"},
		{"strategy,strategies,closest,fewest", "compare", ""},
		{"crew,work order,worksheet,stages,torque,dowel,jack bolt,lifting,lock out,tag out,lockout,guard,safety,caution",
			"sheet", ""},
		{"verify", "after", ""},
		{"example,examples,story", "examples", ""},
		{"material,materials,steel,iron,coefficient", "train-file", "Materials"},
		{"keys,toml", "train-file", ""},
	}
}

// key is a word as it is looked up.
func key(words string) string {
	parts := strings.FieldsFunc(strings.ToLower(words), func(c rune) bool { return strings.ContainsRune(" -_", c) })
	return strings.Join(parts, " ")
}

// Find is where the index leads for some words: a page, and the heading of a part of it,
// "" for all of it. Where it does not have them as they are, it goes by the most words of them that
// it has, in one or in several. ok is false where it has none.
func Find(words string) (page, heading string, ok bool) {
	all := strings.Fields(key(words))
	for n := len(all); n > 0; n-- {
		for from := range len(all) - n + 1 {
			some := strings.Join(all[from:from+n], " ")
			for _, word := range []string{some, strings.TrimSuffix(some, "s"), strings.TrimSuffix(some, "es")} {
				for _, e := range index() {
					if slices.Contains(strings.Split(e.words, ","), word) {
						return e.page, e.heading, true
					}
				}
			}
		}
	}
	return "", "", false
}

// Words are those of the index.
func Words() []string {
	var out []string
	for _, e := range index() {
		out = append(out, strings.Split(e.words, ",")...)
	}
	return out
}

// Part is what stands under a heading of a page, with the page's title; nil where there is no
// such heading.
func Part(page, heading string) *doc.Doc {
	whole := Page(page)
	if whole == nil {
		return nil
	}
	for _, b := range whole.Blocks {
		if s, is := b.(*doc.Section); is && s.Heading == heading {
			return &doc.Doc{Title: fmt.Sprintf("%s (all of it: leastmove help %s)", whole.Title, page), Blocks: []doc.Block{s}}
		}
	}
	return nil
}

// Mentions are the pages that have some words in their text, with the headings over them.
func Mentions(words string) []string {
	var out []string
	for _, t := range Topics() {
		heading, seen := "", map[string]bool{}
		for _, line := range strings.Split(text(t.Name), "\n") {
			if strings.HasPrefix(line, "#") {
				heading = strings.TrimLeft(line, "# ")
			}
			if strings.Contains(key(line), key(words)) && !seen[heading] {
				seen[heading] = true
				out = append(out, fmt.Sprintf("help %s: %s", t.Name, heading))
			}
		}
	}
	return out
}
