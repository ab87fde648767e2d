package trim

import (
	"fmt"
	"strings"
	"testing"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/source"
	"example.org/linewright/engine/wing"
)

func shown(rows []Row) string {
	var out []string
	for _, r := range rows {
		out = append(out, fmt.Sprintf("%s %s", r.PathRef, r.Value))
	}
	return strings.Join(out, ", ")
}

// The rules of RFC 4180, section 2, by their numbers, and what spreadsheets
// make of them.
func TestReadCSV(t *testing.T) {
	p := small(t)
	const want = "A1 left 6950 mm, A1 right 6951.5 mm"
	for name, data := range map[string]string{
		"1, records end with CRLF":               "point,side,mm\r\nA1,left,6950\r\nA1,right,6951.5\r\n",
		"2, the last record may have no end":     "point,side,mm\nA1,left,6950\nA1,right,6951.5",
		"3, a header":                            "point,side,mm\nA1,left,6950\nA1,right,6951.5\n",
		"4, fields in any order":                 "mm,side,point\n6950,left,A1\n6951.5,right,A1\n",
		"5, fields in quotation marks":           "\"point\",\"side\",\"mm\"\n\"A1\",\"left\",\"6950\"\nA1,\"right\",6951.5\n",
		"6, a separator within them":             "point,side,mm\nA1,left,6950\nA1,right,\"6951,5\"\n",
		"semicolons and decimal commas":          "point;side;mm\nA1;left;6950\nA1;right;6951,5\n",
		"tabs":                                   "point\tside\tmm\nA1\tleft\t6950\nA1\tright\t6951,5\n",
		"a mark of the byte order":               "\ufeffpoint,side,mm\nA1,left,6950\nA1,right,6951.5\n",
		"a column a side":                        "point;left;right\nA1;6950;6951,5\n",
		"words in capitals, spaces, short sides": "Point; Side ;MM\nA1;L; 6950 \n A1 ;Right;6951,5\n",
		"lengths with units":                     "point,side,mm\nA1,left,6.95 m\nA1,right,695.15 cm\n",
		"empty lines and lengths left out":       "point,left,right\n\nA1,6950,6951.5\n\nA2,,\n",
	} {
		rows, err := ReadCSV(p, "sheet.csv", []byte(data))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		equal(t, name, shown(rows), want)
	}
}

// A path that stands there twice has two readings of one measurement.
func TestReadCSVTwice(t *testing.T) {
	p := small(t)
	rows, err := ReadCSV(p, "sheet.csv", []byte("point,side,mm\nA1,left,6950\nA1,left,6951\n"))
	if err != nil {
		t.Fatal(err)
	}
	paths, err := Evaluate(p, wing.FromRiser, rows, goodBench())
	if err != nil {
		t.Fatal(err)
	}
	equal(t, "paths", len(paths), 1)
	equal(t, "readings", paths[0].Measurement.N, 2)
	equal(t, "mean", paths[0].Measurement.Mean, 6950500)
	equal(t, "agree", paths[0].Disagree, false)
	equal(t, "typed", rows[1].Typed, "6951")
}

func TestReadCSVFaults(t *testing.T) {
	p := small(t)
	var out strings.Builder
	for _, data := range []string{
		"",
		"point,side,mm\n",
		"point,side\nA1,left\n",
		"point,side,mm,left\nA1,left,1,2\n",
		"point,point,mm\n",
		"point,site,mm\n",
		"point,side,mm\nA1,left,6950\nX9,left,6950\na1,right,6950\nA1,middle,6950\nA1,left,69a\nA1,right,-6950\nA1,left,12\nA1,left,nan\nA1,left\nA2,right,1.234,5\n",
		"point;left;right\nA1;6950;1.234,5\n",
		"point,side,mm\nA1,left,\"6950\nA1,right,6950\n",
		"point,side,mm\nA1,left,69\"50\n",
		"point,side,mm\nA1\x1b[2J,left,6950\n",
		"point,side,mm\nA1,left,69\xff\n",
		"point,side,mm\n" + strings.Repeat("Z1,left,6950\n", 300),
		strings.Repeat("x", source.MaxBytes+1),
	} {
		rows, err := ReadCSV(p, "sheet.csv", []byte(data))
		if err == nil || rows != nil {
			t.Fatalf("%q was taken: %v", data, rows)
		}
		faults := err.(source.Faults)
		if len(faults) > mostFaults+1 {
			t.Errorf("%d faults", len(faults))
		}
		for i, f := range faults {
			if i < 12 || i >= len(faults)-2 {
				out.WriteString(f.Error() + "\n")
			}
		}
		out.WriteString("\n")
	}
	golden(t, "faults.txt", out.String())
}

func FuzzReadCSV(f *testing.F) {
	f.Add("point,side,mm\nA1,left,6950\n")
	f.Add("point;left;right\nA1;6950;6951,5\n")
	f.Add("point,side,mm\nA1,left,\"6950\n")
	p := small(f)
	f.Fuzz(func(t *testing.T, data string) {
		rows, err := ReadCSV(p, "sheet.csv", []byte(data))
		if (err == nil) == (len(rows) == 0) {
			t.Fatalf("%d rows and error %v", len(rows), err)
		}
		if err != nil {
			if strings.ContainsFunc(err.Error(), func(r rune) bool { return r != '\n' && source.Hidden(r) }) {
				t.Fatalf("a control character reaches the terminal: %q", err.Error())
			}
			return
		}
		for _, r := range rows {
			if _, ok := p.Path(r.Point, r.Side); !ok || r.Value < LeastPath || r.Value > GreatestPath {
				t.Fatalf("%+v was taken", r)
			}
		}
		if _, err := Evaluate(p, wing.FromLink, rows, metrology.DefaultBench()); err != nil {
			t.Fatal(err)
		}
	})
}
