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

// form is a drawing with what is said under it, at length and in a word.
type form struct {
	rows  []string
	words []string
	short string
}

// hitchStages are the stages of the lark's head, in order. Common practice, no
// source.
var hitchStages = []form{
	{frames["hitch.head"], []string{"1 head in", "all loops"}, "1 head in"},
	{frames["hitch.tail"], []string{"2 tail in", "own head"}, "2 tail in"},
	{frames["hitch.flat"], []string{"3 snug,", "flat"}, "3 flat"},
}

// hitchUndone are the same stages for a joint that is taken apart.
var hitchUndone = []form{
	{frames["hitch.flat"], []string{"1 loosen,", "head back"}, "1 loosen"},
	{frames["hitch.tail"], []string{"2 tail out", "of its head"}, "2 tail out"},
	{frames["hitch.head"], []string{"3 head out", "of loops"}, "3 head out"},
}

// hitchRight is the form to be met.
var hitchRight = form{frames["hitch.flat"], []string{"RIGHT:", "flat, one head"}, "RIGHT"}

// hitchWrong are forms that look like a hitch and are none, or not a right one;
// the last is the one before it gone further.
var hitchWrong = []form{
	{frames["hitch.out"], []string{"WRONG: a loop", "is left out"}, "x left out"},
	{frames["hitch.caught"], []string{"WRONG: a line", "is caught in it"}, "x caught"},
	{frames["hitch.turned"], []string{"WRONG: turned over,", "upper loops bend"}, "x turned"},
	{frames["hitch.twisted"], []string{"WRONG: twisted,", "legs cross"}, "x twisted"},
	{frames["hitch.leg"], []string{"WRONG: one leg", "beside the head"}, "x leg out"},
	{frames["hitch.behind"], []string{"WRONG: tail not", "through the head"}, "x no head"},
}

const hitchFaults = "Faults: a loop left out; a line caught in it; turned over, so that the upper loops bend; twisted, " +
	"so that the legs cross; one leg beside the head; the tail not through the head; the other way round than the twin."

// hitchRightWords are what is seen of the right form and of the wrong ones, for
// a drawing with words beside it.
var hitchRightWords = []string{
	"RIGHT: one flat head, tail straight",
	"WRONG:", "a loop left out", "a line caught in it", "turned over", "twisted", "a leg beside its head", "unlike the twin",
}

// hitchWrongFew are the same in the fewest words, under the right form.
const hitchWrongFew = "WRONG: a loop left out, a line caught, turned over, twisted, a leg beside its head, unlike the twin"

// hitchFew and hitchUndoneFew are the stages in words, under the hitch as it lies.
var (
	hitchFew       = []string{"1 head in all loops", "2 tail in its own head", "3 snug: flat, one head"}
	hitchUndoneFew = []string{"1 loosen, head back", "2 tail out of its head", "3 head out of loops"}
)

// whole shows forms as they are, with their words.
func whole(all ...form) []frame {
	out := make([]frame, len(all))
	for i, f := range all {
		out[i] = frame{f.rows, f.words}
	}
	return out
}

// small shows the middle of forms, with one word each.
func small(all ...form) []frame {
	out := make([]frame, len(all))
	for i, f := range all {
		out[i] = frame{f.rows[1:5], []string{f.short}}
	}
	return out
}

// Hitch draws how a line is looped into the lines above it: in stages while it
// is made or taken apart, the right form beside the wrong ones when it is looked
// at.
func Hitch(j Joint, w, h int, signs Signs) []string {
	head := fold(j.words(), w)
	if j.Judge {
		return judgedHitch(head, w, h, signs)
	}
	all := hitchStages
	few := hitchFew
	if j.Undo {
		all, few = hitchUndone, hitchUndoneFew
	}
	stages := strip(whole(all...), w, signs)
	wrong := strip(small(hitchWrong[:5]...), w, signs)
	short := make([]frame, len(all))
	for i, f := range all {
		short[i] = frame{f.rows, []string{f.short}}
	}
	if j.Undo {
		wrong = nil
	}
	return firstOf(
		pile(w, h, head, over(stages, wrong), note(w)),
		pile(w, h, head, stages, note(w)),
		pile(w, h, nil, strip(short, w, signs), note(w)),
		pile(w, h, head, bare(w, signs), few, note(w)),
		pile(w, h, nil, bare(w, signs), few, note(w)),
	)
}

// bare draws the hitch as it lies, without words.
func bare(w int, signs Signs) []string {
	return strip([]frame{{rows: hitchRight.rows[1:5]}}, w, signs)
}

func judgedHitch(head []string, w, h int, signs Signs) []string {
	all := append([]form{hitchRight}, hitchWrong...)
	few := small(all[:6]...)
	return firstOf(
		pile(w, h, head, strip(whole(all...), w, signs), note(w)),
		pile(w, h, head, strip(small(all...), w, signs), note(w)),
		pile(w, h, head, strip(few, w, signs), note(w)),
		pile(w, h, nil, strip(few, w, signs), note(w)),
		pile(w, h, head, beside(frame{rows: hitchRight.rows}, hitchRightWords, w, signs), note(w)),
		pile(w, h, head, strip(small(hitchRight), w, signs), fold(hitchWrongFew, w), note(w)),
		pile(w, h, nil, strip(small(hitchRight), w, signs), fold(hitchWrongFew, w), note(w)),
	)
}

func (j Joint) words() string {
	if j.Line == "" || len(j.Upper) == 0 {
		return "The hitch at a joint"
	}
	return clean(j.Line) + " holds " + cleaned(j.Upper, " ")
}

func hitchFacts(j Joint) []string {
	facts := []string{}
	if j.Line != "" && len(j.Upper) > 0 {
		facts = append(facts, clean(j.Line)+" holds "+cleaned(j.Upper, " and ")+" in one hitch.")
	}
	switch {
	case j.Undo:
		return append(facts,
			"Stage 1: loosen the hitch and push its head back.",
			"Stage 2: take the tail of the lower line out of its head, the whole line.",
			"Stage 3: take the head out of the upper loops; they stay where they are.")
	case !j.Judge:
		facts = append(facts,
			"Stage 1: lay the upper loops side by side, the same way, and put the head of the lower line through all of them.",
			"Stage 2: put the tail of the lower line through its own head.",
			"Stage 3: draw it up; the head lies flat, once around, and the tail runs straight.")
	}
	return append(facts,
		"Good: all upper loops in it, one flat head, both legs under the head, the tail straight, the same way round as on the twin.",
		hitchFaults)
}

func cleaned(texts []string, between string) string {
	out := make([]string, len(texts))
	for i, t := range texts {
		out[i] = clean(t)
	}
	return strings.Join(out, between)
}
