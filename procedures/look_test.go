package procedures_test

import (
	"slices"
	"strings"
	"testing"

	"example.org/linewright/engine/procedure"
)

// table is the table of findings of the look.
func table(t *testing.T) []procedure.FindingRule {
	t.Helper()
	p, ok := library(t).Get("wing-look")
	if !ok {
		t.Fatal("no procedure wing-look")
	}
	return p.Findings
}

// A finding that no shipped procedure ends would keep the wing on the ground
// for ever, or send it to a workshop that the table does not name.
func TestEveryFindingCanEnd(t *testing.T) {
	ends := map[procedure.Disposition]map[string]bool{procedure.Replace: {}, procedure.Mend: {}}
	for _, id := range library(t).IDs() {
		p, _ := library(t).Get(id)
		for _, kind := range p.Mends {
			ends[procedure.Replace][kind], ends[procedure.Mend][kind] = true, true
		}
		for _, kind := range p.PutsRight {
			ends[procedure.Mend][kind] = true
		}
	}
	for _, r := range table(t) {
		if ends[r.Disposition] == nil {
			continue
		}
		for _, on := range r.On {
			kind := strings.TrimPrefix(strings.TrimPrefix(strings.TrimPrefix(on, "sheathed "), "bare "), "screw ")
			kind = strings.TrimPrefix(kind, "soft ")
			if !ends[r.Disposition][kind] {
				t.Errorf("%s on a %s is to be ended by %q, and no procedure does that", r.ID, on, r.Disposition)
			}
		}
	}
}

// Whatever is looked at can be damaged, sound but for a trace, or doubtful;
// and doubt never flies.
func TestEveryThingHasWordsForDamageTraceAndDoubt(t *testing.T) {
	kinds := map[string][]procedure.FindingRule{}
	for _, r := range table(t) {
		for _, on := range r.On {
			kinds[on] = append(kinds[on], r)
		}
	}
	if len(kinds) != 12 {
		t.Errorf("%d kinds of things, want 12", len(kinds))
	}
	for kind, rules := range kinds {
		has := func(is func(procedure.FindingRule) bool) bool { return slices.ContainsFunc(rules, is) }
		switch {
		case !has(func(r procedure.FindingRule) bool {
			return r.Disposition.Grounds() && !strings.HasPrefix(r.ID, "unsure")
		}):
			t.Errorf("no damage of a %s keeps the wing on the ground", kind)
		case !has(func(r procedure.FindingRule) bool { return !r.Disposition.Grounds() }):
			t.Errorf("every trace on a %s keeps the wing on the ground", kind)
		case !strings.HasPrefix(rules[len(rules)-1].ID, "unsure"):
			t.Errorf("the last word for a %s is %s, not doubt", kind, rules[len(rules)-1].ID)
		case len(rules) > 12:
			t.Errorf("%d words for a %s do not fit a card", len(rules), kind)
		}
		for _, r := range rules {
			if len(r.Text.In("en")) > 62 || len(r.Reason.In("en")) > 110 {
				t.Errorf("%s: %d and %d characters, at most 62 and 110", r.ID, len(r.Text.In("en")), len(r.Reason.In("en")))
			}
		}
	}
}

// Hands learn the numbers: what wears, what is only dirty, and doubt have each
// one number on everything, and a cut or a spot has one on lines of both kinds.
func TestADamageHasOneNumberEverywhere(t *testing.T) {
	byID := map[string]int{}
	for _, r := range table(t) {
		byID[r.ID] = r.Number
		want := map[procedure.Disposition]int{procedure.Watch: 9, procedure.Sound: 10}[r.Disposition]
		if strings.HasPrefix(r.ID, "unsure") {
			want = 12
		}
		if taken := r.Number == 9 || r.Number == 10 || r.Number == 12; taken != (want > 0) || taken && r.Number != want {
			t.Errorf("%s, %s, has the number %d", r.ID, r.Disposition, r.Number)
		}
	}
	for a, b := range map[string]string{"sheath_cut": "strands", "lump": "flat", "scuffed": "fuzz", "unsure": "unsure_other", "stain": "dirt"} {
		if byID[a] != byID[b] {
			t.Errorf("%s has the number %d, %s %d", a, byID[a], b, byID[b])
		}
	}
}

// What a line is damaged by has a place on it, but for what is said of the
// whole line or of an end.
func TestAPlaceIsAskedWhereThereIsOne(t *testing.T) {
	whole := []string{"loop", "stretched", "stain", "unsure"}
	for _, r := range table(t) {
		line := strings.Contains(strings.Join(r.On, " "), "line")
		if r.Place != (line && !slices.Contains(whole, r.ID)) {
			t.Errorf("%s on %v: asks for a place: %v", r.ID, r.On, r.Place)
		}
	}
}

// A damage under the sheath is no word for a line without one.
func TestWordsForALineFollowItsSheath(t *testing.T) {
	for _, r := range table(t) {
		for _, word := range []string{"sheath", "core"} {
			if slices.Contains(r.On, "bare line") && strings.Contains(r.Text.In("en"), word) {
				t.Errorf("%s speaks of a %s to a bare line", r.ID, word)
			}
		}
		if slices.Contains(r.On, "sheathed line") && strings.Contains(r.Text.In("en"), "strand") {
			t.Errorf("%s speaks of strands to a sheathed line", r.ID)
		}
	}
}

// On paper the look is a table: each thing of the sample wing has its row.
func TestASheetOfTheSurveyNamesEveryThing(t *testing.T) {
	sheet := mustUnfold(t, "damage-survey", "wing").Sheet("en", procedure.Plain)
	for _, want := range []string{"C1.2 left: sound ______ found ___", "s2.1 right: sound", "link C right: sound", "brake pulley left: sound", "tab C5 left: sound", "parking of the brake handle right: sound"} {
		if !strings.Contains(sheet, want) {
			t.Errorf("the sheet has no %q", want)
		}
	}
	blank := func(id string) string {
		p, _ := library(t).Get(id)
		return p.Sheet("en", procedure.Plain)
	}
	for _, id := range []string{"damage-survey", "release", "wing-look"} {
		text := blank(id)
		for _, want := range []string{"______ (each row, left and right)", "______: sound ______ found", "severed: REPLACE. It is in two pieces."} {
			if !strings.Contains(text, want) {
				t.Errorf("the blank sheet of %s has no %q", id, want)
			}
		}
		if n := strings.Count(text, "severed: REPLACE"); n != 1 {
			t.Errorf("the words for lines stand %d times on the sheet of %s", n, id)
		}
	}
	if text := blank("release"); strings.Contains(text, "CLOTH") || strings.Contains(text, "TOUCH EVERY LINE") {
		t.Error("the release prints the first look too")
	}
	if text := blank("damage-survey"); strings.Contains(text, "FOLLOW THE LINES") {
		t.Error("the survey prints the look of a person who did not do the work")
	}
}
