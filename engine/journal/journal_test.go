package journal

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"
)

// events are of the kinds that a job writes, with the characters that people
// type.
var events = []string{
	`{}`,
	`{"kind":"measure","typed":"4,205 m","um":4205000}`,
	`{"kind":"note","text":"Schäkel sitzt \"fest\", 2 ½ turns → ok \\ \u001b[31m"}`,
	`{"a":[1,2,{"b":null}],"c":-1.5e3}`,
	`{"kind":"close"}`,
}

// chain makes a journal of the given events.
func chain(t testing.TB, events ...string) []Line {
	t.Helper()
	head := EmptyHead()
	var lines []Line
	for _, e := range events {
		line, err := Encode(head, json.RawMessage(e))
		if err != nil {
			t.Fatal(err)
		}
		lines = append(lines, line)
		head = line.Head()
	}
	return lines
}

func TestParseGivesBackWhatWasEncoded(t *testing.T) {
	want := chain(t, events...)
	got, torn, err := Parse(Join(want))
	if err != nil || torn != nil {
		t.Fatalf("torn %q, error %v", torn, err)
	}
	if len(got) != len(events) {
		t.Fatalf("%d lines, want %d", len(got), len(events))
	}
	for i, l := range got {
		if l.N != i+1 || string(l.Event) != events[i] || l.Hash != want[i].Hash || l.Prev != want[i].Prev {
			t.Errorf("line %d is %+v, want %+v", i+1, l, want[i])
		}
	}
}

func TestParseOfNothing(t *testing.T) {
	lines, torn, err := Parse(nil)
	if lines != nil || torn != nil || err != nil {
		t.Errorf("got %v, %q, %v", lines, torn, err)
	}
	if EmptyHead().Hash != strings.Repeat("0", 64) {
		t.Errorf("zero hash is %q", EmptyHead().Hash)
	}
}

// The bytes of edition 1. The file was written by hand with printf and
// sha256sum (see testdata/README), not by this package.
func TestEdition1StaysReadable(t *testing.T) {
	golden, err := os.ReadFile("testdata/edition-1.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	lines, torn, err := Parse(golden)
	if err != nil || torn != nil || len(lines) != 3 {
		t.Fatalf("%d lines, torn %q, error %v", len(lines), torn, err)
	}
	var again []string
	for _, l := range lines {
		again = append(again, string(l.Event))
	}
	if got := Join(chain(t, again...)); !bytes.Equal(got, golden) {
		t.Errorf("encoded again:\n%s\nwant\n%s", got, golden)
	}
}

// The package comment tells how to check the chain without this program.
func TestChainCheckedWithSha256sum(t *testing.T) {
	const script = `sed -n 2p testdata/edition-1.jsonl | tr -d '\n' | sha256sum`
	for _, tool := range []string{"sh", "sed", "tr", "sha256sum"} {
		if _, err := exec.LookPath(tool); err != nil {
			if os.Getenv("LINEWRIGHT_NEED_TOOLS") == "1" {
				t.Fatal(err)
			}
			t.Skip("no " + tool + " here")
		}
	}
	out, err := exec.Command("sh", "-c", script).Output()
	if err != nil {
		t.Fatal(err)
	}
	golden, err := os.ReadFile("testdata/edition-1.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	lines, _, err := Parse(golden)
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Fields(string(out))[0]; got != lines[1].Hash || got != lines[2].Prev {
		t.Errorf("sha256sum says %s, line 2 has hash %s, line 3 has prev %s", got, lines[1].Hash, lines[2].Prev)
	}
}

func TestEncodeRefuses(t *testing.T) {
	for name, event := range map[string]string{
		"nothing":             ``,
		"a list":              `[]`,
		"a text":              `"x"`,
		"null":                `null`,
		"no JSON":             `{"a":}`,
		"two objects":         `{}{}`,
		"an object and more":  `{},"n":9`,
		"space inside":        `{"a": 1}`,
		"space around":        ` {}`,
		"a newline":           "{\"a\":\n1}",
		"a raw newline":       "{\"a\":\"\n\"}",
		"an escape character": "{\"a\":\"\x1b[2J\"}",
		"a delete character":  "{\"a\":\"\x7f\"}",
		"a C1 control":        "{\"a\":\"\u009b2J\"}",
		"a line separator":    "{\"a\":\"\u2028\"}",
		"a NUL":               "{\"a\":\"\x00\"}",
		"bad UTF-8":           "{\"a\":\"\xff\"}",
		"a byte order mark":   "\ufeff{}",
		"nan":                 `{"a":NaN}`,
		"too much":            `{"a":"` + strings.Repeat("x", MaxEvent) + `"}`,
	} {
		line, err := Encode(EmptyHead(), json.RawMessage(event))
		var refused *EventError
		if !errors.As(err, &refused) {
			t.Errorf("%s: error %v", name, err)
			continue
		}
		if line.Raw != nil {
			t.Errorf("%s: refused, and yet a line %q", name, line.Raw)
		}
		if strings.ContainsFunc(refused.What, unicode.IsControl) {
			t.Errorf("%s: control character in %q", name, refused.What)
		}
	}
}

func TestEncodeTakesTheLargestEvent(t *testing.T) {
	event := `{"a":"` + strings.Repeat("x", MaxEvent-8) + `"}`
	lines := chain(t, event, event)
	got, _, err := Parse(Join(lines))
	if err != nil || len(got) != 2 {
		t.Errorf("%d lines, error %v", len(got), err)
	}
}

func TestDamageIsNamed(t *testing.T) {
	good := chain(t, events...)
	one, two, three := string(good[0].Raw), string(good[1].Raw), string(good[2].Raw)
	lines := func(l ...string) string { return strings.Join(l, "\n") + "\n" }
	zero := strings.Repeat("0", 64)
	for _, c := range []struct {
		name, data string
		line       int
		what       string
	}{
		{"empty line", lines(one, "", two), 2, "it is not a JSON object with the fields of a journal line"},
		{"only a newline", "\n", 1, "it is not a JSON object with the fields of a journal line"},
		{"cut line in the middle", lines(one, two[:40], three), 2, "it is not a JSON object with the fields of a journal line"},
		{"line missing", lines(one, three), 2, "its number does not follow the line before: a line is missing, doubled or moved"},
		{"line doubled", lines(one, two, two), 3, "its number does not follow the line before: a line is missing, doubled or moved"},
		{"first line missing", lines(two, three), 1, "the first line does not state the edition (linewright_journal)"},
		{"event changed", lines(one, strings.Replace(two, "4205000", "4206000", 1), three), 3,
			"it does not carry the hash of line 2: this line or that one was changed"},
		{"number of the wrong type", lines(strings.Replace(one, `"n":1`, `"n":"1"`, 1)), 1,
			"it is not a JSON object with the fields of a journal line"},
		{"first prev not zero", lines(strings.Replace(one, zero, "1"+zero[1:], 1)), 1, "the first line does not carry the zero hash"},
		{"fields in another order", lines(one, `{"prev":"`+good[0].Hash+`","n":2,"event":{}}`), 2,
			"its fields are not spelled or ordered as the format demands"},
		{"unknown field", lines(one, strings.TrimSuffix(two, "}")+`,"x":1}`), 2, "the event is not valid JSON"},
		{"space behind", lines(one, two+" "), 2, "it does not end with a closing brace"},
		{"carriage return", lines(one+"\r", two), 1, "it does not end with a closing brace"},
		{"event is a list", lines(one, strings.Replace(two, string(good[1].Event), "[]", 1)), 2, "the event is not a JSON object"},
		{"edition twice", lines(one, strings.Replace(two, "{", `{"linewright_journal":1,`, 1)), 2,
			"its fields are not spelled or ordered as the format demands"},
		{"line too long", lines(one, strings.Repeat("x", maxFrame+MaxEvent+1)), 2,
			fmt.Sprintf("it has %d bytes, more than a line can have", maxFrame+MaxEvent+1)},
		{"byte order mark", "\ufeff" + lines(one), 1, "it is not a JSON object with the fields of a journal line"},
	} {
		got, torn, err := Parse([]byte(c.data))
		var damage *DamageError
		if !errors.As(err, &damage) {
			t.Errorf("%s: error %v", c.name, err)
			continue
		}
		if damage.Line != c.line || damage.What != c.what {
			t.Errorf("%s: line %d, %q\nwant line %d, %q", c.name, damage.Line, damage.What, c.line, c.what)
		}
		if got != nil || torn != nil {
			t.Errorf("%s: refused, and yet %d lines, torn %q", c.name, len(got), torn)
		}
	}
}

func TestNewerEditionIsNotCalledDamage(t *testing.T) {
	newer := bytes.Replace(Join(chain(t, `{}`)), []byte(`_journal":1`), []byte(`_journal":2`), 1)
	_, _, err := Parse(newer)
	var edition *EditionError
	if !errors.As(err, &edition) || edition.Edition != 2 {
		t.Fatalf("error %v", err)
	}
	const want = "the journal has edition 2, this program reads edition 1\nopen it with the newer linewright that wrote it"
	if err.Error() != want {
		t.Errorf("text %q", err)
	}
}

// Every bit of every byte. A change to a line with a successor is always found,
// at that line or the next. In the last line a change that leaves a good line
// cannot be found here, but it moves the head, which is what gets signed.
func TestEveryFlippedBitIsFound(t *testing.T) {
	lines := chain(t, events...)
	good := Join(lines)
	head := lines[len(lines)-1].Head()
	n := 1
	for i := range good {
		for bit := range 8 {
			bad := bytes.Clone(good)
			bad[i] ^= 1 << bit
			got, torn, err := Parse(bad)
			checkFlip(t, fmt.Sprintf("byte %d bit %d in line %d", i, bit, n), n, head, got, torn, err)
		}
		if good[i] == '\n' {
			n++
		}
	}
}

func checkFlip(t *testing.T, where string, n int, head Head, got []Line, torn []byte, err error) {
	t.Helper()
	var damage *DamageError
	var edition *EditionError
	switch {
	case errors.As(err, &damage):
		if damage.Line != n && damage.Line != n+1 {
			t.Errorf("%s: damage reported in line %d", where, damage.Line)
		}
		if strings.ContainsFunc(damage.What, unicode.IsControl) {
			t.Errorf("%s: control character in %q", where, damage.What)
		}
	case errors.As(err, &edition):
		if n != 1 {
			t.Errorf("%s: reported as an edition", where)
		}
	case n < head.N:
		t.Errorf("%s: not found", where)
	case len(torn) == 0 && got[len(got)-1].Head() == head:
		t.Errorf("%s: neither refused nor seen in the head", where)
	}
}

func TestAnyEventsGoRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		texts := rapid.SliceOf(rapid.MapOf(rapid.String(), rapid.String())).Draw(t, "events")
		head := EmptyHead()
		var data []byte
		for _, text := range texts {
			event, err := json.Marshal(text)
			if err != nil {
				t.Fatal(err)
			}
			line, err := Encode(head, event)
			if err != nil {
				// The standard encoder leaves DEL and the C1 controls raw.
				if !bytes.ContainsFunc(event, unicode.IsControl) {
					t.Fatalf("%s refused: %v", event, err)
				}
				continue
			}
			data = append(append(data, line.Raw...), '\n')
			head = line.Head()
		}
		lines, torn, err := Parse(data)
		if err != nil || torn != nil {
			t.Fatalf("torn %q, error %v", torn, err)
		}
		if !bytes.Equal(Join(lines), data) {
			t.Fatal("not the same bytes")
		}
	})
}

func FuzzParse(f *testing.F) {
	good := Join(chain(f, events...))
	f.Add(good)
	f.Add(good[:len(good)-1])
	f.Add(good[:len(good)/2])
	f.Add([]byte("\n"))
	f.Add([]byte(`{"linewright_journal":1,"n":1,"prev":"`))
	f.Fuzz(func(t *testing.T, data []byte) {
		lines, torn, err := Parse(data)
		if err != nil {
			if lines != nil || torn != nil {
				t.Fatal("an error, and yet a result")
			}
			return
		}
		var again []byte
		head := EmptyHead()
		for _, l := range lines {
			line, err := Encode(head, l.Event)
			if err != nil {
				t.Fatalf("line %d was read but is not written: %v", l.N, err)
			}
			again = append(append(again, line.Raw...), '\n')
			head = line.Head()
		}
		if !bytes.Equal(append(again, torn...), data) {
			t.Fatal("encoded again, the bytes differ")
		}
	})
}

func BenchmarkParse(b *testing.B) {
	var all []string
	for len(all) < 2000 {
		all = append(all, events[1:4]...)
	}
	data := Join(chain(b, all...))
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, _, err := Parse(data); err != nil {
			b.Fatal(err)
		}
	}
}
