package picture

// bowlineStages are the stages of the bowline, in order. ABOK #1010, from memory.
var bowlineStages = []frame{
	{frames["bowline.loop"], []string{"1 small loop,", "tail part on top"}},
	{frames["bowline.up"], []string{"2 through handle,", "up through loop"}},
	{frames["bowline.knot"], []string{"3 behind the line,", "down through loop"}},
}

var bowlineWords = []string{
	"1 small loop, tail part on top",
	"2 tail through the handle, up through the loop",
	"3 behind the line, down through the loop",
	"4 draw up, load by hand",
}

// Bowline draws the usual knot of a brake handle in stages. The line comes
// from the pulley at the top, the handle hangs in the large loop. tail is said
// with it: how much has to be left, in words, or nothing.
func Bowline(tail string, w, h int, signs Signs) []string {
	head := fold("A bowline, if one was found.", w)
	var last []string
	if tail != "" {
		last = fold("Tail: "+clean(tail), w)
	}
	done := frame{rows: frames["bowline.knot"]}
	words := beside(done, bowlineWords, w, signs)
	return firstOf(
		pile(w, h, head, strip(bowlineStages, w, signs), last, note(w)),
		pile(w, h, head, words, last, note(w)),
		pile(w, h, nil, words, last, note(w)),
		pile(w, h, nil, strip([]frame{done}, w, signs), last, note(w)),
	)
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

func bowlineFacts(tail string) []string {
	facts := []string{
		"The usual knot is a bowline; keep the form that was found.",
		"Stage 1: make a small loop in the line, the part toward the tail on top of the part from the pulley.",
		"Stage 2: lead the tail through the handle and up through the small loop from behind.",
		"Stage 3: lead the tail behind the line from the pulley and down through the small loop.",
		"Stage 4: draw it up and load it by hand.",
	}
	if tail != "" {
		facts = append(facts, "Tail: "+clean(tail)+".")
	}
	return append(facts, sketchNote)
}
