package picture

import (
	"strings"

	"example.org/linewright/engine/quantity"
)

// bowlineStages are the stages of the bowline, in order. ABOK #1010, from memory.
var bowlineStages = []form{
	{frames["bowline.loop"], []string{"1 tail over", "the line"}, "1 over"},
	{frames["bowline.up"], []string{"2 up from", "behind"}, "2 up"},
	{frames["bowline.knot"], []string{"3 round,", "then down"}, "3 down"},
}

// bowlineDrawn is the knot as it is loaded, with what is called its tail.
var bowlineDrawn = form{frames["bowline.drawn"], []string{"4 draw up,", "load by hand"}, "4 load"}

var bowlineWords = []string{
	"1 small loop, tail part on top",
	"2 tail through the handle, up through the loop",
	"3 behind the line, down through the loop",
	"4 draw up, load by hand",
}

// Tail is what is known of the end beyond a brake knot. 0 is not known.
type Tail struct {
	Least quantity.Length
	After quantity.Length // as it will be
	Short bool            // the line is too short for it
}

// words say how long the tail has to be, and how long it will be.
func (t Tail) words() string {
	var parts []string
	if t.Short {
		parts = append(parts, "too short")
	} else if t.After > 0 {
		parts = append(parts, t.After.String())
	}
	if t.Least > 0 {
		parts = append(parts, "at least "+t.Least.String())
	}
	return strings.Join(parts, ", ")
}

// ruler marks from where to where the tail is measured.
func (t Tail) ruler(w int) []string {
	words := t.words()
	if words == "" {
		words = "tail"
	}
	line := "knot O--- " + words + " ---' end"
	if columns(line) > w {
		return fold("Tail: "+words, w)
	}
	return []string{line}
}

// Bowline draws the usual knot of a brake handle in stages. The line comes
// from the pulley at the top, the handle hangs in the large loop.
func Bowline(t Tail, w, h int, signs Signs) []string {
	head := fold("A bowline, if found. H handle.", w)
	tail := t.ruler(w)
	short := make([]frame, len(bowlineStages))
	for i, f := range bowlineStages {
		short[i] = frame{f.rows, []string{f.short}}
	}
	done := frame{rows: frames["bowline.knot"]}
	words := beside(done, bowlineWords, w, signs)
	return firstOf(
		pile(w, h, head, inOneTier(whole(append(bowlineStages[:3:3], bowlineDrawn)...), w, signs), tail, note(w)),
		pile(w, h, head, inOneTier(whole(bowlineStages...), w, signs), tail, note(w)),
		pile(w, h, head, inOneTier(short, w, signs), tail, note(w)),
		pile(w, h, nil, inOneTier(short, w, signs), tail, note(w)),
		pile(w, h, nil, words, tail, note(w)),
		pile(w, h, nil, strip([]frame{done}, w, signs), tail, note(w)),
	)
}

// inOneTier draws stages side by side, and nil where they would have to break:
// they are read in one line.
func inOneTier(all []frame, w int, signs Signs) []string {
	for gap := 3; gap > 0; gap-- {
		if lines, ok := tiers(all, len(all), gap, w, signs); ok {
			return lines
		}
	}
	return nil
}

// beside draws one frame with words to its right; nil if they find no room.
func beside(f frame, words []string, w int, signs Signs) []string {
	const gap = 2
	x := widest(f.rows) + gap
	var text []string
	for _, t := range words {
		text = append(text, fold(t, w-x)...)
	}
	if w-x <= 0 || widest(text) > w-x {
		return nil
	}
	c := newCanvas(w, max(len(f.rows), len(text)), signs)
	c.artwork(0, 0, f.rows)
	for y, t := range text {
		c.put(x, y, t)
	}
	return c.lines()
}

func bowlineFacts(t Tail) []string {
	facts := []string{
		"The usual knot is a bowline; keep the form that was found, its mirror image too.",
		"Stage 1: make a small loop in the line, the part toward the tail on top of the part from the pulley.",
		"Stage 2: lead the tail through the handle and up through the small loop from behind.",
		"Stage 3: lead the tail behind the line from the pulley and down through the small loop.",
		"Stage 4: draw it up and load it by hand.",
	}
	if words := t.words(); words != "" {
		facts = append(facts, "Tail, from the knot to its end: "+words+".")
	}
	return facts
}
