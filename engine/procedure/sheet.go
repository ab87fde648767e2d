package procedure

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/linewright/engine/wing"
)

// Sheet prints the procedure for a bench without a computer: numbered, with
// blanks for the answers, for any target. What depends on plan and target is
// a blank too; limits are the fallbacks and say so.
func (p *Procedure) Sheet(lang string, f Format) string {
	return p.Blank().Sheet(lang, f)
}

// Sheet prints the unfolded procedure, for its one target. Where the target
// has to be found out, the sheet names it only behind the answers.
func (u *Unfolded) Sheet(lang string, f Format) string { return u.SheetOf("", lang, f) }

// SheetOf is Sheet with the wing's name and serial number on it; "" leaves a
// blank for them.
func (u *Unfolded) SheetOf(wing, lang string, f Format) string {
	s := &sheet{u: u, lang: lang, no: map[string]string{}, wing: wing}
	s.number()
	s.head()
	for _, sl := range u.Slots {
		s.slot(sl)
	}
	s.reveal(nil)
	return s.render(f)
}

// Blank lays the procedure out over no target: each repetition stands once and
// says over what it goes.
func (p *Procedure) Blank() *Unfolded {
	f := factsOf(&wing.Plan{}, wing.Ref{})
	for name := range f {
		if aboutTarget(name) && (p.Target == string(wing.KindLine) || !strings.HasPrefix(name, "line.")) {
			delete(f, name)
		}
	}
	u := &Unfolded{Procedure: p, Facts: f, byKey: map[string]*Slot{}}
	t := map[Each][]Instance{}
	for each, label := range map[Each]string{
		EachLine: blank + " (each line of the link, from the centre)", EachNeighbour: blank + " (each neighbour on the link)",
		EachJoint: blank + " (each joint, from the link up)", EachRefit: blank + " (each joint, from the canopy down)",
	} {
		if p.Target == string(wing.KindLine) || !jointwise(each) {
			t[each] = []Instance{{Each: each, Name: blank, Label: label, Joins: "the lines above"}}
		}
	}
	t[EachRow] = []Instance{{Each: EachRow, Name: blank, Label: blank + " (each row)"}}
	t[EachRowSide] = []Instance{{Each: EachRowSide, Name: blank, Label: blank + " (each row, left and right)"}}
	for _, side := range wing.Sides {
		t[EachSide] = append(t[EachSide], Instance{Each: EachSide, Name: string(side), Label: string(side), Side: side})
	}
	if err := (&scope{proc: p, whole: u, about: about{facts: f, turns: t}}).lay(nil); err != nil {
		panic("procedure: " + p.ID + ": " + err.Error()) // without a plan no bar is judged
	}
	return u
}

// aboutTarget reports whether a fact differs with the target, or with the plan.
func aboutTarget(fact string) bool {
	head, _, _ := strings.Cut(fact, ".")
	return slices.Contains([]string{"line", "link", "tab", "side", "other_side", "plan"}, head) || fact == "brake.main" || fact == "brake.pulleys"
}

// blank is where a person writes.
const blank = "______"

// blankWords stand for facts on a sheet without a target.
var blankWords = map[string]string{
	"line.code": "the line", "line.root": "the lowest line", "other_side": "other", "plan.source": "plan",
}

// noAnswers is a task before its first answer.
type noAnswers struct{}

// Answer finds nothing.
func (noAnswers) Answer(string) (any, bool) { return nil, false }

// sheet gathers the rows of one printed sheet.
type sheet struct {
	u    *Unfolded
	lang string
	wing string            // its name and serial number, where they are known
	no   map[string]string // slot key -> its number on the sheet
	rows []row

	phase, card string // where the rows have come to
	hidden      bool
}

// number gives each card a number and each of its fields one behind the dot.
func (s *sheet) number() {
	card, field, last := 0, 0, ""
	for _, sl := range s.u.Slots {
		if sl.CardKey != last {
			card, field, last = card+1, 0, sl.CardKey
		}
		field++
		s.no[sl.Key] = fmt.Sprintf("%d.%d", card, field)
	}
}

func (s *sheet) head() {
	p := s.u.Procedure
	s.add(rowTitle, "", fmt.Sprintf("%s (%s, edition %s)", p.Title.In(s.lang), p.ID, p.Edition))
	s.add(rowText, "", p.Purpose.In(s.lang))
	if s.u.plan != nil {
		s.add(rowText, "", fmt.Sprintf("Plan: %s %s, %s.", s.u.plan.Name, s.u.plan.Size, s.u.plan.Source.Text))
		if !s.covered() {
			s.add(rowText, "", "For "+s.u.Target.String()+".")
		}
	}
	if p.Source != "" {
		s.add(rowText, "", "Source: "+p.Source+".")
	}
	s.add(rowText, "", "It does not say that the wing may fly; only the pilot takes the tag off. The wing's manual and local rules come first.")
	line := strings.Repeat("_", 40)
	for _, field := range [][2]string{{"Wing and serial number", cmp.Or(s.wing, line)}, {"Date and place", line}, {"Doer", line}} {
		s.add(rowAnswer, "", field[0]+" "+field[1])
	}
	if s.u.plan == nil {
		for _, q := range p.Parts() {
			for _, b := range q.Bars {
				s.add(rowStop, "", "Not everywhere: "+s.plain(b.Say)+" "+s.plain(b.Instead))
			}
		}
	}
}

// covered reports whether the target has to be found out on this sheet.
func (s *sheet) covered() bool {
	for _, m := range s.u.Phases {
		if m.Hidden {
			return true
		}
	}
	return false
}

// plain fills a text of the head, where no slot is.
func (s *sheet) plain(t Text) string {
	return fill(t.In(s.lang), func(name string) (any, bool) { return s.fact(name), true })
}

func (s *sheet) fact(name string) any {
	if v, ok := s.u.Facts[name]; ok {
		return v
	}
	if word, ok := blankWords[name]; ok {
		return word
	}
	return blank
}

func (s *sheet) slot(sl *Slot) {
	s.reveal(sl)
	s.openPhase(sl)
	s.openCard(sl)
	s.field(sl)
}

// reveal names the target once the phase that hides it is over.
func (s *sheet) reveal(next *Slot) {
	over := s.hidden && (next == nil || !next.Hidden)
	s.hidden = next != nil && next.Hidden
	if over && s.u.plan != nil {
		s.add(rowStop, "", "This sheet is made for "+s.u.Target.String()+". If your answers lead to another line, stop here and take a sheet for that one.")
	}
}

func (s *sheet) openPhase(sl *Slot) {
	m := s.u.Phases[sl.Phase]
	id := strconv.Itoa(sl.Phase)
	if id == s.phase {
		return
	}
	s.phase = id
	title := m.Title.In(s.lang)
	if m.Side != "" {
		title += ", " + string(m.Side)
	}
	s.add(rowPhase, "", title)
	for _, g := range sl.whens {
		if g.expr != sl.Card.when && !g.of(sl.Step) {
			s.only(rowText, sl, g)
		}
	}
}

func (s *sheet) openCard(sl *Slot) {
	if sl.CardKey == s.card {
		return
	}
	s.card = sl.CardKey
	number, _, _ := strings.Cut(s.no[sl.Key], ".")
	c := sl.Card
	if !c.Caution.Empty() {
		s.add(rowCaution, "", s.say(sl, c.Caution))
	}
	s.add(rowCard, number, s.say(sl, c.Action))
	for _, g := range sl.whens {
		if g.expr == c.when {
			s.only(rowText, sl, g)
		}
	}
	if c.By == Second {
		s.add(rowText, "", "For the second person, who is not the doer.")
	}
	if !c.Detail.Empty() {
		s.add(rowText, "", s.say(sl, c.Detail))
	}
	s.add(rowText, "", "Why: "+s.say(sl, c.Reason))
}

// only says a condition in words, unless plan and target have decided it.
func (s *sheet) only(kind rowKind, sl *Slot, g gate) {
	if g.scope.settled(g.expr) {
		return
	}
	words := g.only.In(s.lang)
	if words == "" {
		words = g.expr.Text
	}
	s.add(kind, "", "Only if: "+sl.fillSheet(s, words)+".")
}

func (s *sheet) say(sl *Slot, t Text) string {
	text := t.In(s.lang)
	filled := sl.fillSheet(s, text)
	if s.u.plan == nil && strings.HasPrefix(text, "{") {
		return Capital(filled) // a word stands where a code would, whose case counts
	}
	return filled
}

// fillSheet writes into a text what is known without answers; what an answer
// will say refers to its number, all else is a blank.
func (sl *Slot) fillSheet(s *sheet, text string) string {
	return fill(text, func(name string) (any, bool) {
		if key, ok := sl.scope.keyOf(name, sl.Instance); ok && s.no[key] != "" {
			return "(no. " + s.no[key] + ")", true
		}
		if r, ok := sl.scope.proc.resolve(name, sl.Instance.Each); ok && r.kind == nameFact {
			return s.fact(name), true
		} else if ok && r.kind == nameLet {
			return blank, true // an answer may change it
		}
		if v, ok := sl.Value(name, noAnswers{}); ok {
			return v, true
		}
		return blank, true
	})
}

func (s *sheet) add(kind rowKind, mark, text string) {
	if text != "" {
		s.rows = append(s.rows, row{kind, mark, text})
	}
}
