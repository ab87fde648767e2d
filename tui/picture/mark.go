package picture

// Mark is what a fan shows of a line. Marks add up: InHand | Damaged.
type Mark uint8

// The marks.
const (
	InHand   Mark = 1 << iota // the line that the step is about
	Damaged                   // a finding is open
	Done                      // looked at, or its work is done
	Void                      // does not count until answered again
	Possible                  // still fits what was seen
)
