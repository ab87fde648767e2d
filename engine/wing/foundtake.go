package wing

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.org/linewright/engine/quantity"
)

// The most lines on one foot and at one joint: more are a slip of the finger.
const (
	mostOnFoot  = 30
	mostAtJoint = 8
)

// mostRow is how long a row may be that codes are made of.
const mostRow = 12

// notMeasured answers the length of a line that nobody measured.
const notMeasured = "-"

// take reads an answer. It changes nothing where it gives an error.
func (s *foundState) take(key FoundKey, line, text string) error {
	if text == "" {
		return refuse("nothing was said", s.words(key, line).Hint)
	}
	switch key {
	case FoundName, FoundSize:
		return s.takeText(key, text)
	case FoundFoot:
		return s.takeFoot(text)
	case FoundBranch:
		return s.takeBranch(text)
	case FoundLines:
		return s.takeLines(text)
	case FoundCarries:
		return s.takeCarries(text)
	case FoundBare:
		return s.takeBare(text)
	case FoundTarget:
		return s.takeTarget(text)
	case FoundAbove:
		return s.takeAbove(line, text)
	case FoundSide:
		return s.takeSide(text)
	case FoundPull:
		return s.takePull(text)
	}
	return s.takeLength(line, text)
}

func (s *foundState) takeText(key FoundKey, text string) error {
	if err := plainText(text); err != nil {
		return err
	}
	if key == FoundName {
		s.head.Name = text
	} else {
		s.head.Size = text
	}
	s.done[key] = true
	return nil
}

func (s *foundState) takeFoot(text string) error {
	word, err := oneWord(text, s.words(FoundFoot, "").Options)
	if err != nil {
		return err
	}
	s.foot = word
	s.done[FoundFoot], s.done[FoundBranch] = true, word == footHandle
	return nil
}

func (s *foundState) takeBranch(text string) error {
	if !IsName(text) {
		return notName(text)
	}
	if utf8.RuneCountInString(text) > mostRow {
		return refuse(fmt.Sprintf("%q is too long for a riser branch", text), fmt.Sprintf("use at most %d characters, such as C", mostRow))
	}
	s.branch = text
	s.done[FoundBranch] = true
	return nil
}

// takeLines takes codes from the centre outward, or how many there are.
func (s *foundState) takeLines(text string) error {
	if n, err := strconv.Atoi(text); err == nil {
		if n < 1 || n > mostOnFoot {
			return refuse(fmt.Sprintf("%d lines cannot be", n), fmt.Sprintf("count them: 1 to %d", mostOnFoot))
		}
		for range n {
			s.add(s.free(s.row(), 1), "", 0)
		}
		s.counted = true
		s.done[FoundLines] = true
		return nil
	}
	codes := strings.Fields(text)
	if len(codes) > mostOnFoot {
		return refuse(fmt.Sprintf("%d lines cannot be", len(codes)), fmt.Sprintf("count them: 1 to %d", mostOnFoot))
	}
	if err := s.newCodes(codes); err != nil {
		return err
	}
	for _, code := range codes {
		s.add(code, "", 0)
	}
	s.done[FoundLines] = true
	return nil
}

// row is the row of lines that no code names.
func (s *foundState) row() string {
	if s.foot == footHandle {
		return "Br"
	}
	return s.branch
}

// free makes up a code that no line has: row, storey from the pilot, number
// from the centre.
func (s *foundState) free(row string, storey int) string {
	row = string([]rune(row)[:min(mostRow, utf8.RuneCountInString(row))])
	for n := 1; ; n++ {
		code := fmt.Sprintf("%s%d.%d", row, storey, n)
		if !slices.ContainsFunc(s.lines, func(l foundLine) bool { return l.code == code }) {
			return code
		}
	}
}

// add hangs a line outside of those that already hang on the same thing.
func (s *foundState) add(code, on string, joints int) {
	pos := 1
	for _, l := range s.lines {
		if l.on == on {
			pos++
		}
	}
	s.lines = append(s.lines, foundLine{code, on, pos, joints})
}

// newCodes checks codes that are to be given to lines.
func (s *foundState) newCodes(codes []string) error {
	taken := map[string]bool{}
	for _, l := range s.lines {
		taken[l.code] = true
	}
	for _, code := range codes {
		switch {
		case !IsName(code):
			return notName(code)
		case code == string(OnHandle):
			return refuse("a line cannot be called "+code, "give it another code: that word stands for the brake handle")
		case taken[code]:
			return refuse(fmt.Sprintf("the code %s is there twice", code), "give each line one code of its own; C1 and c1 are two codes")
		}
		taken[code] = true
	}
	return nil
}

// takeCarries takes one number for all, a number for each line on the foot, or
// the codes with a slash between those of each line.
func (s *foundState) takeCarries(text string) error {
	above, err := s.groups(text, s.onFoot())
	if err != nil {
		return err
	}
	for _, code := range s.onFoot() {
		s.hang(code, above[code], 1)
	}
	s.done[FoundCarries] = true
	return nil
}

// carried is what one line carries: codes, or how many where they have none.
type carried struct {
	codes []string
	n     int
}

// groups reads what each of some lines carries.
func (s *foundState) groups(text string, lines []string) (map[string]carried, error) {
	parts := strings.Split(text, "/")
	if len(parts) == 1 && isCounts(text) {
		parts = strings.Fields(text)
	}
	if len(parts) == 1 && isCounts(text) {
		parts = slices.Repeat(parts, len(lines))
	}
	if len(parts) != len(lines) {
		return nil, refuse(fmt.Sprintf("%d answers for %d lines", len(parts), len(lines)),
			"give one number for all, a number for each, or the codes with a slash between those of each line")
	}
	var all []string
	groups := map[string]carried{}
	for i, part := range parts {
		c := carried{codes: strings.Fields(part)}
		if n, err := strconv.Atoi(strings.TrimSpace(part)); err == nil {
			c = carried{n: n}
		} else {
			c.n = len(c.codes)
		}
		if c.n < 0 || c.n > mostAtJoint || c.n == 0 && len(strings.Fields(part)) == 0 {
			return nil, refuse(fmt.Sprintf("%q is nothing that a line carries", strings.TrimSpace(part)), fmt.Sprintf("count the lines at its upper end: 0 to %d, 0 where it runs to the canopy", mostAtJoint))
		}
		all = append(all, c.codes...)
		groups[lines[i]] = c
	}
	return groups, s.newCodes(all)
}

func isCounts(text string) bool {
	return !slices.ContainsFunc(strings.Fields(text), func(f string) bool {
		_, err := strconv.Atoi(f)
		return err != nil
	})
}

// hang loops lines into another.
func (s *foundState) hang(on string, c carried, joints int) {
	for i := range c.n {
		if i < len(c.codes) {
			s.add(c.codes[i], on, joints)
			continue
		}
		s.add(s.free(s.rowOf(on), joints+1), on, joints)
		s.counted = true
	}
}

// rowOf is the row of a code, else that of the foot.
func (s *foundState) rowOf(code string) string {
	if row := RowOf(code); row != "" {
		return row
	}
	return s.row()
}

func (s *foundState) takeBare(text string) error {
	switch text {
	case bareNone:
		s.bare = func(foundLine) bool { return false }
	case bareAll:
		s.bare = func(foundLine) bool { return true }
	case bareAbove:
		s.bare = func(l foundLine) bool { return l.joints > 0 }
	default:
		codes, err := s.known(text)
		if err != nil {
			return err
		}
		s.bare = func(l foundLine) bool {
			return slices.Contains(codes, l.code) || slices.Contains(codes, l.on) && l.joints > 1
		}
	}
	s.done[FoundBare] = true
	return nil
}

// known reads codes of lines that are there, in their order.
func (s *foundState) known(text string) ([]string, error) {
	asked := strings.Fields(text)
	for _, code := range asked {
		if !slices.ContainsFunc(s.lines, func(l foundLine) bool { return l.code == code }) {
			return nil, refuse(fmt.Sprintf("there is no line %q here", code), "these are there: "+strings.Join(s.codes(func(foundLine) bool { return true }), " "))
		}
	}
	return s.codes(func(l foundLine) bool { return slices.Contains(asked, l.code) }), nil
}

func (s *foundState) takeTarget(text string) error {
	codes, err := []string(nil), error(nil)
	if text != targetNone {
		codes, err = s.known(text)
	}
	if err != nil {
		return err
	}
	s.target = codes
	s.done[FoundTarget] = true
	return nil
}

func (s *foundState) takeAbove(line, text string) error {
	above, err := s.groups(text, []string{line})
	if err != nil {
		return err
	}
	s.hang(line, above[line], s.line(line).joints+1)
	s.above[line] = true
	return nil
}

func (s *foundState) takeSide(text string) error {
	word, err := oneWord(text, s.words(FoundSide, "").Options)
	if err != nil {
		return err
	}
	s.side = Side(word)
	s.done[FoundSide] = true
	return nil
}

func (s *foundState) takePull(text string) error {
	pull, err := quantity.ParseForce(text)
	if err != nil {
		return refusedValue(err)
	}
	if pull < quantity.Newton || pull > 500*quantity.Newton {
		return refuse(fmt.Sprintf("a pull of %s cannot be", pull), "give 1 to 500 N")
	}
	s.pull = pull
	s.done[FoundPull] = true
	return nil
}

func (s *foundState) takeLength(line, text string) error {
	if text == notMeasured {
		s.length[line] = 0
		return nil
	}
	length, err := quantity.ParseLength(text)
	if err != nil {
		return refusedValue(err)
	}
	if !lineLong(length) {
		return refuse(fmt.Sprintf("a line of %s cannot be", length), fmt.Sprintf("give %d to %d mm, or %s where it was not measured", minLineMM, maxLineMM, notMeasured))
	}
	s.length[line] = length
	return nil
}

// refusedValue gives a refused value the form of all refusals.
func refusedValue(err error) error {
	var parse *quantity.ParseError
	if errors.As(err, &parse) {
		return refuse(parse.Error(), parse.Cure())
	}
	return err
}
