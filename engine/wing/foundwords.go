package wing

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"example.org/linewright/engine/source"
)

// Words that answer questions.
const (
	footScrew  = "screw"
	footSoft   = "soft"
	footTab    = "tab"
	footHandle = "handle"

	bareNone  = "none"
	bareAll   = "all"
	bareAbove = "above"

	targetNone = "none"
)

// words says a question.
func (s *foundState) words(key FoundKey, line string) FoundQuestion {
	lines := strings.Join(s.onFoot(), " ")
	switch key {
	case FoundName:
		return FoundQuestion{Kind: FoundText, Ask: "Name of the wing", Hint: "write it as it stands on the wing"}
	case FoundSize:
		return FoundQuestion{Kind: FoundText, Ask: "Its size", Hint: "write it as it stands on the wing"}
	case FoundFoot:
		return FoundQuestion{Kind: FoundChoice, Ask: "What do the lines hang on?", Hint: "look at the end toward the pilot", Options: []FoundOption{
			{footScrew, "a screw link"}, {footSoft, "a soft link"}, {footTab, "a riser tab, without a link"}, {footHandle, "the brake handle"},
		}}
	case FoundBranch:
		return FoundQuestion{Kind: FoundOne, Ask: "Which riser branch is it?", Hint: "A is the foremost; write its name, such as C"}
	case FoundLines:
		return FoundQuestion{Kind: FoundCodes, Ask: "Which lines hang on it, from the centre of the wing outward?",
			Hint: "write the codes on their labels, such as C1.1 C1.2 C1.3; without labels write how many"}
	case FoundCarries:
		return FoundQuestion{Kind: FoundCounts, Ask: "What does each carry at its upper end: " + lines + "?",
			Hint: "write how many lines for each, such as 2 2 3, or one number for all; 0 runs to the canopy; or their codes, such as C2.1 C2.2 / C2.3 C2.4"}
	case FoundBare:
		return FoundQuestion{Kind: FoundCodes, Ask: "Which of these lines have no sheath?", Hint: "write a word or their codes", Options: []FoundOption{
			{bareNone, "each has a sheath"}, {bareAll, "none has one"}, {bareAbove, "those above the first joint have none"},
		}}
	case FoundTarget:
		return FoundQuestion{Kind: FoundCodes, Ask: "Which lines are to be worked on?",
			Hint:    "write their codes; of these the twin is measured: " + strings.Join(s.codes(func(foundLine) bool { return true }), " "),
			Options: []FoundOption{{targetNone, "no length is measured now"}}}
	case FoundAbove:
		return FoundQuestion{Kind: FoundCounts, Ask: fmt.Sprintf("What does %s carry at its upper end?", line),
			Hint: "write how many lines, 0 where it runs to the canopy, or their codes"}
	case FoundSide:
		return FoundQuestion{Kind: FoundChoice, Ask: "On which side are the twins measured?", Hint: "the side that is not damaged, as the pilot sits", Options: []FoundOption{
			{string(Left), "the left"}, {string(Right), "the right"},
		}}
	case FoundPull:
		return FoundQuestion{Kind: FoundForce, Ask: "With which pull are they measured?", Hint: "write it in N, such as 50"}
	}
	return FoundQuestion{Kind: FoundMM, Ask: fmt.Sprintf("How long is %s on the %s, from loop to loop?", line, s.side), Hint: "write it in mm, or with its unit",
		Options: []FoundOption{{notMeasured, "not measured"}}}
}

// oneWord reads one of the options, by its word or by its number.
func oneWord(text string, options []FoundOption) (string, error) {
	var words []string
	for i, o := range options {
		if text == o.Word || text == fmt.Sprint(i+1) {
			return o.Word, nil
		}
		words = append(words, o.Word)
	}
	return "", refuse(fmt.Sprintf("%q is no answer here", text), "write one of: "+strings.Join(words, ", "))
}

func notName(text string) error {
	return refuse(fmt.Sprintf("%q cannot be a name", text), fmt.Sprintf(`use 1 to %d characters without spaces and without : @ / \ , ; "`, maxName))
}

// mostText is the longest name of a wing in characters.
const mostText = 80

func plainText(text string) error {
	if !utf8.ValidString(text) || strings.ContainsFunc(text, source.Hidden) {
		return refuse("the text has a control character", "remove it")
	}
	if utf8.RuneCountInString(text) > mostText || strings.Count(text, ".") > mostText/4 {
		return refuse("the text is too long", fmt.Sprintf("write at most %d characters", mostText))
	}
	return nil
}

// draft makes the plan of what was said.
func (s *foundState) draft() Draft {
	d := Draft{Plan: Plan{Name: s.head.Name, Size: s.head.Size, Partial: true, AsFound: true}}
	d.Source = Source{Text: s.source(), Date: s.head.Date}
	if s.pull > 0 {
		d.Pull = Pull{Force: s.pull, Source: fmt.Sprintf("as stated at the bench, %s by %s", s.head.Date, s.head.By)}
	}
	foot := Anchor{Kind: OnHandle}
	if s.foot != footHandle {
		d.Risers = []Riser{{Branch: s.branch}}
		foot = Anchor{OnRiser, s.branch}
	}
	if s.foot == footScrew || s.foot == footSoft {
		d.Links = []Link{{Name: s.branch, Branch: s.branch, Kind: LinkKind(s.foot)}}
		foot = Anchor{OnLink, s.branch}
	}
	for _, l := range s.lines {
		d.Lines = append(d.Lines, s.planLine(l, foot))
	}
	if main := s.onFoot(); s.foot == footHandle && len(main) == 1 {
		d.Brake = &Brake{Main: main[0]}
	}
	return d
}

// source says where the plan comes from, and what in it is not the maker's.
func (s *foundState) source() string {
	text := fmt.Sprintf("as found on the wing, %s by %s", s.head.Date, s.head.By)
	if slices.ContainsFunc(s.target, func(code string) bool { return s.length[code] > 0 }) {
		text += fmt.Sprintf("; lengths of the %s side", s.side)
	}
	if s.counted {
		text += "; lines without a label were counted"
	}
	return text
}

func (s *foundState) planLine(l foundLine, foot Anchor) Line {
	p := Line{Code: l.code, Row: s.rowOf(l.code), Tier: s.tier(l), On: foot, Pos: l.pos, Bare: s.bare(l), Length: s.length[l.code], Span: -1}
	if l.on != "" {
		p.On = Anchor{OnLine, l.on}
	}
	return p
}

// tier gives the storey. What is known to run to the canopy from a joint is
// upper; what nobody followed further is taken for middle.
func (s *foundState) tier(l foundLine) Tier {
	carries := slices.ContainsFunc(s.lines, func(o foundLine) bool { return o.on == l.code })
	switch {
	case l.joints == 0:
		return Lower
	case l.joints > 1 || s.above[l.code] && !carries:
		return Upper
	}
	return Middle
}
