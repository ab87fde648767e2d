package table

import (
	"bytes"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/linewright/engine/wing"
)

// The rules of RFC 4180, section 2, one by one. What is read is laxer than what
// is written, as the RFC's interoperability note asks (section 3).
func TestRFC4180Reading(t *testing.T) {
	for _, c := range []struct {
		rule, text string
		want       [][]string
	}{
		{"2.1 each record on a line of its own, delimited by CRLF", "aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", [][]string{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}}},
		{"2.2 the last record may lack its line break", "aaa,bbb,ccc\r\nzzz,yyy,xxx", [][]string{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}}},
		{"2.3 an optional header line", "field_name,field_name2\r\naaa,bbb\r\n", [][]string{{"field_name", "field_name2"}, {"aaa", "bbb"}}},
		{"2.4 one or more fields, separated by commas", "aaa,bbb,ccc\r\n,,c\r\n", [][]string{{"aaa", "bbb", "ccc"}, {"", "", "c"}}},
		{"2.5 fields may be enclosed in double quotes", "\"aaa\",\"bbb\",ccc\r\nzzz,yyy,xxx", [][]string{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}}},
		{"2.6 line breaks, double quotes and commas in an enclosed field", "\"aaa\",\"b \r\nbb\",\"c,c\"\r\nzzz,yyy,xxx", [][]string{{"aaa", "b \nbb", "c,c"}, {"zzz", "yyy", "xxx"}}},
		{"2.7 a double quote in a field is doubled", "\"aaa\",\"b\"\"bb\",\"ccc\"", [][]string{{"aaa", `b"bb`, "ccc"}}},
		{"not in the RFC: LF alone, a byte order mark, empty lines", "\ufeffaaa,bbb\n\n,\nzzz,yyy\n", [][]string{{"aaa", "bbb"}, {"zzz", "yyy"}}},
		{"not in the RFC: semicolons", "aaa;1,5\r\nzzz;2,5\r\n", [][]string{{"aaa", "1,5"}, {"zzz", "2,5"}}},
		{"not in the RFC: tabs", "aaa\t1,5;\r\nzzz\t2,5;\r\n", [][]string{{"aaa", "1,5;"}, {"zzz", "2,5;"}}},
		// 2.4 counts spaces as part of a field. No code or number has any at its
		// ends, so they are taken off; within a field they stay.
		{"2.4, not followed: spaces at the ends of a field", "aaa , b b ,\"  c \"\r\n", [][]string{{"aaa", "b b", "c"}}},
	} {
		s, err := Read("x.csv", []byte(c.text), Layout{})
		if err != nil {
			t.Errorf("%s: %v", c.rule, err)
			continue
		}
		var got [][]string
		for _, r := range s.Records {
			got = append(got, r.Fields)
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s: %s", c.rule, diff)
		}
	}
}

// RFC 4180, section 2, rule 4: each line should contain the same number of
// fields; rule 5: double quotes may not appear inside fields that are not enclosed.
func TestRFC4180Refused(t *testing.T) {
	for text, want := range map[string]string{
		"code,length\nA1,4205,6\n":     "x.csv:2: 3 fields instead of 2",
		"code,length\nA1\nA2,4205\n":   "x.csv:2: 1 fields instead of 2",
		"code,length\nA\"1,4205\n":     "x.csv:2: character 2: the quotation marks do not match",
		"code,length\n\"A1\"x,4205\n":  "x.csv:2: character 4: the quotation marks do not match",
		"code,length\n\"A1,4205\nA2\n": "x.csv:2: the quotation marks do not match",
	} {
		if err := refused("x.csv", []byte(text)); err == nil || !strings.HasPrefix(err.Error(), want+"\n") {
			t.Errorf("%q: %v\nwant %s", text, err, want)
		}
	}
}

// What is written follows the rules to the letter: CRLF after every record, the
// same number of fields, and only what has to be is enclosed in quotes.
func TestRFC4180Writing(t *testing.T) {
	d := wing.Draft{Plan: wing.Plan{Name: "n", Size: "s", Partial: true, Source: wing.Source{Text: "t", Date: "d"}, Loose: []wing.Line{
		{Code: "A1", Length: 4205500, Material: `braid, "1,5"`, Span: -1, Unseen: true},
		{Code: "A2", Length: 4210000, Material: "braid", Span: -1, Bare: true},
	}}}
	p, err := wing.ParsePlan(d.TOML(), "x.toml")
	if err != nil {
		t.Fatal(err)
	}
	want := "code,length_mm,sheathed,material\r\n" +
		"A1,4205.5,,\"braid, \"\"1,5\"\"\"\r\n" +
		"A2,4210,no,braid\r\n"
	if got := string(Export(p)); got != want {
		t.Errorf("%q\nwant %q", got, want)
	}
	if bytes.HasPrefix(Export(p), []byte("\ufeff")) {
		t.Error("a byte order mark")
	}
}
