package source

import (
	"math"
	"strings"
	"testing"
)

type sheet struct {
	Name  string            `toml:"name"`
	Count int               `toml:"count"`
	Limit *float64          `toml:"limit"`
	Title map[string]string `toml:"title"`
	Rows  []row             `toml:"row"`
}

type row struct {
	Code  string  `toml:"code"`
	MM    float64 `toml:"mm"`
	Cells []cell  `toml:"cell"`
}

type cell struct {
	Text string `toml:"text"`
}

func TestDecodeBindsAllThatIsThere(t *testing.T) {
	var s sheet
	d := Decode("a.toml", []byte("name = 'x'\nlimit = 3\ntitle.en = 'T'\n[[row]]\ncode='A'\nmm=1.5\n[[row.cell]]\ntext='c'\n[[row]]\ncode='a'\n"), &s)
	if err := d.Faults.Err(); err != nil {
		t.Fatal(err)
	}
	if s.Name != "x" || *s.Limit != 3 || s.Title["en"] != "T" || len(s.Rows) != 2 || s.Rows[0].MM != 1.5 || s.Rows[0].Cells[0].Text != "c" || s.Rows[1].Code != "a" {
		t.Errorf("bound %+v", s)
	}
}

func TestEveryFaultNamesLineKeyAndCure(t *testing.T) {
	text := `name = "bell \u0007"
count = "three"
Name = "case"
limit = nan
long = """
mm = 1
"""

[[row]]
code = "A"
mm = true

[[row]]
code = [
  "x",
]
[[row.cell]]
txt = "c"
`
	var s sheet
	d := Decode("b.toml", []byte(text), &s)
	want := map[string]int{"name": 1, "count": 2, "Name": 3, "limit": 4, "long": 5, "row[0].mm": 11, "row[1].code": 14, "row[1].cell[0].txt": 18}
	if len(d.Faults) != len(want) {
		t.Errorf("%d faults, want %d:\n%v", len(d.Faults), len(want), d.Faults)
	}
	for _, f := range d.Faults {
		if want[f.Key] != f.Line {
			t.Errorf("%s: line %d, want %d", f.Key, f.Line, want[f.Key])
		}
		if f.What == "" || f.Cure == "" {
			t.Errorf("%s lacks a word: %+v", f.Key, f)
		}
	}
	if strings.ContainsRune(d.Faults.Error(), 7) {
		t.Error("a control character came through")
	}
}

func TestAFaultyPointerStaysNil(t *testing.T) {
	var s sheet
	d := Decode("c.toml", []byte("limit = inf"), &s)
	if s.Limit != nil || len(d.Faults) != 1 {
		t.Errorf("limit %v, faults %v", s.Limit, d.Faults)
	}
}

func TestSyntaxAndSize(t *testing.T) {
	for name, data := range map[string][]byte{
		"not TOML":   []byte("name = \n"),
		"not UTF-8":  {0xff, 0xfe},
		"1048577 by": make([]byte, MaxBytes+1),
	} {
		d := Decode("d.toml", data, &sheet{})
		if len(d.Faults) != 1 || !strings.Contains(d.Faults[0].What, strings.Fields(name)[0]) {
			t.Errorf("%s: %v", name, d.Faults)
		}
	}
}

func TestCleanKeepsTextAndShowsControls(t *testing.T) {
	if got := Clean("Ä 5\n\x1b[31m\u202e"); got != "Ä 5\n\\u001b[31m\\u202e" {
		t.Errorf("%q", got)
	}
}

func FuzzDecode(f *testing.F) {
	f.Add([]byte("a = [1, {b = '''x'''}]\n[[c.d]]\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		var s sheet
		d := Decode("f.toml", data, &s)
		if s.Limit != nil && (math.IsNaN(*s.Limit) || math.IsInf(*s.Limit, 0)) {
			t.Error("a number that is none came through")
		}
		for _, fault := range d.Faults {
			for _, r := range fault.Error() {
				if r != '\n' && Hidden(r) {
					t.Errorf("control character in %q", fault.Error())
				}
			}
		}
	})
}
