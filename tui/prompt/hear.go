package prompt

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/seal"
	"example.org/linewright/engine/wing"
)

var word = regexp.MustCompile(`\pL[\pL\pN.]*`)

// letters finds the codes of a plan that differ from another in capital and
// small letters alone, which sound the same, with the letter in words.
func letters(p *wing.Plan) map[string]string {
	out := map[string]string{}
	if p == nil {
		return out
	}
	var codes []string
	for _, l := range p.Lines {
		codes = append(codes, l.Code)
		if l.Point != "" {
			codes = append(codes, l.Point)
		}
	}
	for _, a := range codes {
		for _, b := range codes {
			if a != b && strings.EqualFold(a, b) {
				out[a] = letter(a, b)
			}
		}
	}
	return out
}

// letter names the first letter in which a code differs from the other.
func letter(code, other string) string {
	beside := []rune(other)
	for i, r := range []rune(code) {
		switch {
		case i < len(beside) && beside[i] == r:
		case unicode.IsUpper(r):
			return " (capital " + string(r) + ")"
		default:
			return " (small " + string(r) + ")"
		}
	}
	return ""
}

// heard puts the letter behind each code that sounds like another of the wing.
func (w *walk) heard(text string) string {
	if w.alike == nil {
		w.alike = letters(w.s.Job().Plan)
	}
	if len(w.alike) == 0 {
		return text
	}
	return word.ReplaceAllStringFunc(text, func(found string) string {
		code := strings.TrimRight(found, ".")
		return code + w.alike[code] + found[len(code):]
	})
}

// What is said in full the first time of a sitting only: a listener would hear
// it before each of a hundred readings.
var onlyOnce = []string{
	" (or cm, m, in, ft if you type it)",
	"; or another path with its name, as C7 left 4208",
	"; capital and small letters count",
}

// briefly leaves out what was said before. A question mark brings it back.
func (w *walk) briefly(text string) string {
	for _, long := range onlyOnce {
		if strings.Contains(text, long) && !w.first(long) {
			text = strings.Replace(text, long, "", 1)
		}
	}
	return text
}

// first reports whether something is due to be said for the first time, see briefly.
func (w *walk) first(what string) bool {
	before := w.said[what]
	w.said[what] = true
	return !before
}

// facts says what a picture shows, but for what the card before said of its own.
func (w *walk) facts(all []string) {
	var again int
	for _, fact := range all {
		if slices.Contains(w.shownFacts, fact) {
			again++
		}
	}
	for _, fact := range all {
		if again < fewAgain || !slices.Contains(w.shownFacts, fact) {
			w.say("%s", fact)
		}
	}
	if again >= fewAgain {
		w.say("The rest is as on the card before; :card says all of it.")
	}
	w.shownFacts = all
}

// fewAgain is up to how many facts are said again sooner than that they are.
const fewAgain = 2

// head names the task, where it is another than was named last.
func (w *walk) head(c job.Card) {
	if text := fmt.Sprintf("Task %d: %s, %s.", c.Task, c.Title, target(c)); text != w.headed {
		w.say("%s", text)
		w.headed = text
	}
}

// signedWith says a key so that it can be told from another by ear; the record
// has its whole fingerprint.
func signedWith(fingerprint string, custody seal.Custody) string {
	const last = 6
	kept := map[seal.Custody]string{
		seal.PassPhrase:  "kept under a pass phrase",
		seal.Unencrypted: "kept without a pass phrase",
		seal.InAgent:     "kept by the agent",
	}[custody]
	return fmt.Sprintf("with the key that ends in %s, %s", fingerprint[max(0, len(fingerprint)-last):], kept)
}

// findingNo is what a finding is called by: its number, with that of its job
// where it comes from another.
func (w *walk) findingNo(id string) string {
	no, _, _ := strings.Cut(id, "-")
	own, ok := strings.CutPrefix(no, fmt.Sprintf("%d/", w.s.Job().Start.Job))
	if ok {
		return own
	}
	return no
}

// partWords says a part by ear: one of it needs no number.
func partWords(p job.Part) string {
	text := PartWords(p)
	if p.Count == 1 {
		return strings.TrimPrefix(text, "1 x ")
	}
	return strings.Replace(text, " x ", " times ", 1)
}
