package picture

import "strings"

// Joint is where a line is looped into the lines above it. Without codes the
// drawing is of no joint in particular.
type Joint struct {
	Line  string   // the lower line
	Upper []string // what it holds: codes from the centre, or the tab
	Judge bool     // it is made and looked at: the wrong forms belong to it
	Undo  bool     // it is taken apart: the stages are read backwards
}

// hitchStages are the stages of the lark's head, in order. Common practice, no
// source.
var hitchStages = []frame{
	{frames["hitch.head"], []string{"1 head in", "all loops"}},
	{frames["hitch.tail"], []string{"2 tail in", "own head"}},
	{frames["hitch.flat"], []string{"3 snug,", "flat"}},
}

// hitchWrong are forms that look like a hitch and are none, or not a right one.
var hitchWrong = []frame{
	{frames["hitch.one"], []string{"WRONG: a loop", "is left out"}},
	{frames["hitch.caught"], []string{"WRONG: a line", "is caught in it"}},
	{frames["hitch.beside"], []string{"WRONG: tail not", "through the head"}},
	{frames["hitch.twisted"], []string{"WRONG: the head", "lies crossed"}},
}

const hitchWrongWords = "Wrong: a loop left out; a line caught in it; the tail not through the head; " +
	"the head crossed, not flat; the other way round than the twin."

// hitchRight is the form to be met, and what is seen of it, for a drawing with
// words beside it.
var (
	hitchRight      = frame{frames["hitch.flat"], []string{"RIGHT:", "flat, one head"}}
	hitchRightWords = []string{
		"RIGHT: one flat head, tail straight",
		"WRONG:", "a loop left out", "a line caught in it", "tail not in its head", "head lies crossed", "unlike the twin",
	}
)

// Hitch draws how a line is looped into the lines above it: in stages while it
// is made, the right form beside the wrong ones when it is looked at.
func Hitch(j Joint, w, h int, signs Signs) []string {
	head := fold(j.words(), w)
	right := strip([]frame{hitchRight}, w, signs)
	if j.Judge {
		return firstOf(
			pile(w, h, head, strip(append([]frame{hitchRight}, hitchWrong...), w, signs), note(w)),
			pile(w, h, head, beside(frame{rows: hitchRight.rows}, hitchRightWords, w, signs), note(w)),
			pile(w, h, head, right, note(w)),
		)
	}
	stages := strip(hitchStages, w, signs)
	return firstOf(
		pile(w, h, head, over(stages, strip(hitchWrong, w, signs)), note(w)),
		pile(w, h, head, stages, fold(hitchWrongWords, w), note(w)),
		pile(w, h, head, stages, note(w)),
		pile(w, h, head, right, note(w)),
	)
}

func (j Joint) words() string {
	if j.Line == "" || len(j.Upper) == 0 {
		return "The hitch at a joint"
	}
	words := clean(j.Line) + " holds " + cleaned(j.Upper, " ")
	if j.Undo {
		words += "; to free it read from 3 back to 1"
	}
	return words
}

func hitchFacts(j Joint) []string {
	facts := []string{}
	if j.Line != "" && len(j.Upper) > 0 {
		facts = append(facts, clean(j.Line)+" holds "+cleaned(j.Upper, " and ")+" in one hitch.")
	}
	if j.Undo {
		facts = append(facts, "To free it go from stage 3 back to stage 1.")
	}
	if !j.Judge {
		facts = append(facts,
			"Stage 1: lay the upper loops side by side, the same way, and put the head of the lower line through all of them.",
			"Stage 2: put the tail of the lower line through its own head.",
			"Stage 3: draw it up; the head lies flat, once around, and the tail runs straight.")
	}
	return append(facts,
		"Right: all upper loops in it, one flat head, the tail straight, the same way round as on the twin.",
		hitchWrongWords, sketchNote)
}

func cleaned(texts []string, between string) string {
	out := make([]string, len(texts))
	for i, t := range texts {
		out[i] = clean(t)
	}
	return strings.Join(out, between)
}
