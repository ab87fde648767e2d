package procedures_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"example.org/linewright/engine/procedure"
)

func TestShippedProceduresAreSound(t *testing.T) {
	want := []string{"damage-survey", "wing-look", "part-receipt"}
	if got := library(t).IDs(); len(got) < len(want) || !slices.Equal(got[:len(want)], want) {
		t.Errorf("procedures %v, want %v first", got, want)
	}
	for _, shelf := range procedure.Shelves {
		if on := library(t).On(shelf); (len(on) == 0) != (shelf == procedure.ShelfOther) {
			t.Errorf("shelf %q holds %d", shelf, len(on))
		}
	}
	p, _ := library(t).Get("line-swap")
	var parts []string
	for _, q := range p.Parts() {
		parts = append(parts, q.ID)
	}
	if strings.Join(parts, " ") != "line-swap part-check link-opening line-exchange link-reclosure" {
		t.Errorf("line-swap includes %v", parts)
	}
}

// A condition without words prints as an expression on the sheet.
func TestEveryConditionIsSaidInWords(t *testing.T) {
	for _, id := range library(t).IDs() {
		p, _ := library(t).Get(id)
		said := func(where, when string, only procedure.Text) {
			if (when != "") != !only.Empty() {
				t.Errorf("%s: %s: when %q, only %q", id, where, when, only.In("en"))
			}
		}
		for _, ph := range p.Phases {
			said(ph.ID, ph.When, ph.Only)
			for _, c := range ph.Cards {
				said(ph.ID+"/"+c.ID, c.When, c.Only)
				for _, s := range c.Steps {
					said(s.ID, s.When, s.Only)
				}
			}
		}
	}
}

// Lengths that leave room on a card of 80 columns and 24 rows.
func TestTextsFitACard(t *testing.T) {
	limits := map[string]int{"Action": 66, "Detail": 260, "Caution": 120, "Reason": 180, "Ask": 86, "Text": 82}
	each := func(where string, v reflect.Value) {
		for name, most := range limits {
			f := v.FieldByName(name)
			if !f.IsValid() {
				continue
			}
			if text, ok := f.Interface().(procedure.Text); ok && utf8.RuneCountInString(text.In("en")) > most {
				t.Errorf("%s: %s has %d characters, at most %d", where, name, utf8.RuneCountInString(text.In("en")), most)
			}
		}
	}
	for _, id := range library(t).IDs() {
		p, _ := library(t).Get(id)
		for _, ph := range p.Phases {
			for _, c := range ph.Cards {
				each(id+" "+c.ID, reflect.ValueOf(c))
				for _, s := range c.Steps {
					each(id+" "+s.ID, reflect.ValueOf(s))
					for _, o := range s.Options {
						each(id+" "+s.ID+" "+o.ID, reflect.ValueOf(o))
					}
				}
			}
		}
	}
}

func TestSheets(t *testing.T) {
	blank := func(id string) procedureSheet {
		p, _ := library(t).Get(id)
		return p.Sheet
	}
	golden(t, "line-swap-C1.2.txt", mustUnfold(t, "line-swap", "line:C1.2@left").Sheet("en", procedure.Plain))
	golden(t, "link-reclosure.txt", blank("link-reclosure")("en", procedure.Plain))
	golden(t, "pulley-relocation.md", blank("pulley-relocation")("en", procedure.Markdown))
}

type procedureSheet func(lang string, f procedure.Format) string

func TestEverySheetPrintsOnPaper(t *testing.T) {
	for _, id := range library(t).IDs() {
		p, _ := library(t).Get(id)
		text := p.Sheet("en", procedure.Plain)
		for no, line := range strings.Split(text, "\n") {
			if utf8.RuneCountInString(line) > 78 || strings.TrimRight(line, " ") != line {
				t.Errorf("%s line %d: %q", id, no+1, line)
			}
		}
		if strings.ContainsAny(text, "{}") || strings.Contains(text, "(not known)") {
			t.Errorf("%s: a name was not filled in", id)
		}
		if holds := strings.Count(text, "Signature ___"); holds != count(t, p, procedure.Sign, false) {
			t.Errorf("%s: %d places to sign", id, holds)
		}
		if md := p.Sheet("en", procedure.Markdown); strings.Contains(md, "____") {
			t.Errorf("%s: a blank would be read as Markdown", id)
		}
	}
}

// count gives the steps of a kind with those of the includes, each as often as
// it is included, but for what an include leaves out because it does not stand
// alone.
func count(t *testing.T, p *procedure.Procedure, kind procedure.Kind, within bool) int {
	t.Helper()
	n := 0
	for _, ph := range p.Phases {
		if within && ph.When == "!has(within)" {
			continue
		}
		if part, ok := library(t).Get(ph.Include); ok {
			n += count(t, part, kind, true)
		}
		for _, c := range ph.Cards {
			for _, s := range c.Steps {
				if s.Kind == kind {
					n++
				}
			}
		}
	}
	return n
}

// Who has to find the line out must not read it at the top of the sheet.
func TestSheetNamesTheTargetBehindTheAnswers(t *testing.T) {
	text := mustUnfold(t, "line-swap", "line:C1.2@left").Sheet("en", procedure.Plain)
	first, found := strings.Index(text, "C1.2"), strings.Index(text, "--- Part in hand")
	if first < strings.Index(text, "The damage") || first > found {
		t.Errorf("the target stands at %d, the phase behind at %d", first, found)
	}
}
