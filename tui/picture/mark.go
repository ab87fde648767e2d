package picture

// Mark is what a fan shows of a line. Marks add up: InHand | Damaged.
type Mark uint8

// The marks.
const (
	InHand   Mark = 1 << iota // the line that the step is about, or where a walk stands
	Damaged                   // a finding is open
	Done                      // looked at, or its work is done
	Void                      // does not count until answered again
	Possible                  // still fits what was seen
	Touched                   // went through the fingers, and is sound
	Finding                   // something was found that need not be damage
)

// markSigns gives each mark that is not InHand its sign and its word. A line in
// hand stands in brackets.
var markSigns = []struct {
	mark Mark
	sign string
	word string
}{
	{Damaged, "!", "damaged"},
	{Finding, "*", "finding"},
	{Done, "=", "done"},
	{Void, "~", "void"},
	{Possible, "?", "possible"},
	{Touched, "/", "touched, sound"},
}

// allSigns is what may stand between the code of a line in hand and its bracket.
var allSigns = signsOf(^Mark(0))

func signsOf(m Mark) string {
	signs := ""
	for _, s := range markSigns {
		if m&s.mark != 0 {
			signs += s.sign
		}
	}
	return signs
}

// signOf gives the gravest sign alone.
func signOf(m Mark) string {
	for _, s := range markSigns {
		if m&s.mark != 0 {
			return s.sign
		}
	}
	return ""
}
