package metrology

import (
	"regexp"
	"strings"

	"pgregory.net/rapid"

	"example.org/linewright/engine/quantity"
)

var wordsForm = regexp.MustCompile(`^(exact|(?:under )?([0-9.]+) mm (?:long|short)), sure within ([0-9.]+) mm, limit ([0-9.]+): (inside|outside|not proved)$`)

// parseWords reads the printed numbers back, as a person would, and works the
// decision rule on them.
func parseWords(t *rapid.T, text string) Judgement {
	m := wordsForm.FindStringSubmatch(text)
	if m == nil {
		t.Fatalf("not the form: %q", text)
	}
	read := func(number string) quantity.Length {
		l, err := quantity.ParseLength(number)
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	var deviation quantity.Length
	if m[2] != "" && !strings.HasPrefix(m[1], "under") {
		deviation = read(m[2])
	}
	u, limit := read(m[3]), read(m[4])
	return Judgement{
		Deviation: deviation, U: u, Limit: limit,
		Verdict: verdict(int64(deviation), int64(u), int64(limit)),
	}
}
