package metrology

import (
	"fmt"
	"strings"
)

// Words describes the bench, one line a key: "tape class: III". A fallback
// says that it is one. The default bench is described by its note.
func (b Bench) Words() []string {
	if b.Default {
		return []string{b.Name + ": " + b.Note}
	}
	var lines []string
	for _, it := range profile {
		if !it.here(b) || it.key == keyNote && b.Note == "" {
			continue
		}
		words := it.words(b)
		if words == "" {
			words = "not given"
		}
		lines = append(lines, it.label+": "+words+b.aside(it.key))
	}
	return lines
}

// Assumed names in one line what a fallback stands for, empty where all was
// answered: "by fallback: tape class II, hook no".
func (b Bench) Assumed() string {
	if b.Default {
		return b.Note
	}
	var parts []string
	for _, it := range profile {
		if b.assumes(it.key) {
			parts = append(parts, it.label+" "+it.words(b))
		}
	}
	if parts == nil {
		return ""
	}
	return "by fallback: " + strings.Join(parts, ", ")
}

// mostHelps is how many changes of a bench are named at once.
const mostHelps = 3

// Words says in one or two lines what the bench can reach and, where that is
// not enough for the limit, what would help most. Readings that scatter more
// than was described are sure within more: the words say on what they rest.
func (o Outlook) Words() []string {
	first := fmt.Sprintf("Sure within %s mm if readings repeat as the bench says; limit %s", bare(up(o.U, 100)), bare(o.Limit))
	switch {
	case o.Tight():
		return o.tightWords(first)
	case o.Decides:
		return []string{first + "."}
	}
	first += ": not enough."
	if len(o.Helps) == 0 {
		return []string{first, "No change that is known here would help: a person decides."}
	}
	lead := "What would help most: "
	if !o.Helps[0].Decides {
		lead = "No single change is enough. What would help most: "
	}
	return []string{first, lead + o.most(Help.words)}
}

// tightWords say what is left of the limit. It is rounded down: U was rounded up.
func (o Outlook) tightWords(first string) []string {
	first = fmt.Sprintf("%s, only %s left.", first, bare((o.Limit-o.U)/100*100))
	if len(o.Helps) == 0 {
		return []string{first, "No change that is known here would help: more will be not proved than need be."}
	}
	return []string{first, "What would help most: " + o.most(Help.bare)}
}

// most names the changes that help most.
func (o Outlook) most(words func(Help) string) string {
	var parts []string
	for _, h := range o.Helps[:min(mostHelps, len(o.Helps))] {
		parts = append(parts, words(h))
	}
	return strings.Join(parts, ", ") + "."
}

func (h Help) words() string {
	if h.Decides {
		return fmt.Sprintf("%s (%s mm, enough)", h.Change, bare(up(h.U, 100)))
	}
	return h.bare()
}

// bare is the change with its U, without a word on whether that is enough.
func (h Help) bare() string { return fmt.Sprintf("%s (%s mm)", h.Change, bare(up(h.U, 100))) }
