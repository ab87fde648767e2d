package prompt

import "example.org/linewright/engine/job"

// tells are the commands that say what the doer answered, or on which line. A
// second person who heard that would repeat it, and not look.
var tells = map[string]bool{"back": true, "agenda": true, "findings": true, "parts": true, "report": true}

// covers reports whether a command waits for the second person's answers, and
// says so. When what they counted does not fit they and the doer hold it against
// the findings.
func (w *walk) covers(c job.Card, name string) bool {
	if !tells[name] || !c.Blind || name == "findings" && c.Fields[c.At].Why != nil {
		return false
	}
	w.say("Covered until the second person has answered: they say what they find on the wing.")
	w.say("Something is to be done again: :disagree REASON. Nobody here to look: :lay-down REASON.")
	return true
}

// lookOverview is the overview while a second person looks: their own card alone.
func (w *walk) lookOverview(c job.Card, rows []job.Row) {
	own := map[string]bool{}
	for _, f := range c.Fields {
		own[f.Key] = true
	}
	for i, r := range rows {
		if !own[r.Key] {
			continue
		}
		if r.Key == c.Fields[0].Key {
			w.say("Steps 1 to %d are the doer's. What they say is covered until the second person has answered.", i)
		}
		w.say("%d: %s: %s", i+1, step(r), state(r))
	}
}
