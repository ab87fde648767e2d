package table

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// carried is what a table can carry of a plan, as text.
func carried(p *wing.Plan) string {
	stated := slices.Clone(p.Stated)
	slices.SortFunc(stated, func(a, b wing.StatedPath) int { return strings.Compare(a.Point, b.Point) })
	var links []string
	for _, l := range p.Links {
		links = append(links, l.Name+" on "+l.Branch+" "+string(l.Kind))
	}
	from := p.PathsFrom
	if len(stated) == 0 {
		from = ""
	}
	return fmt.Sprintf("found %v\n%+v\n%q\n%+v\n%+v\n%s %+v\n%+v", p.AsFound, p.Risers, links, p.Lines, p.Loose, from, stated, p.Exceptions())
}

// back imports what was exported, answering only what no table carries.
func back(t rapid.TB, p *wing.Plan) *wing.Plan {
	csv := Export(p)
	s, err := Read("x.csv", csv, Layout{})
	if err != nil {
		t.Fatalf("%v\n%s", err, csv)
	}
	im, err := s.Guess(nil)
	if err != nil {
		t.Fatalf("%v\n%s", err, csv)
	}
	a := Answers{Name: p.Name, Size: p.Size, Source: p.Source.Text, Date: p.Source.Date, Partial: p.Partial}
	if open := im.Needs(a); len(open) > 0 {
		t.Fatalf("asks %v\n%s", open, csv)
	}
	r, err := im.Plan(a)
	if err != nil {
		t.Fatalf("%v\n%s", err, csv)
	}
	if again := Export(r.Plan); string(again) != string(csv) {
		t.Fatalf("exported again:\n%s\nfirst:\n%s", again, csv)
	}
	return r.Plan
}

func TestRoundTripOfFiles(t *testing.T) {
	for _, file := range []string{"../../procedures/sample/plan.toml", "../wing/testdata/small.toml", "../wing/testdata/partial.toml", "../wing/testdata/loose.toml"} {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		p, err := wing.ParsePlan(data, file)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(carried(p), carried(back(t, p))); diff != "" {
			t.Errorf("%s: %s", file, diff)
		}
	}
}

// Any plan comes back as it was.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draft(t)
		p, err := wing.ParsePlan(d.TOML(), "x.toml")
		if err != nil {
			t.Fatalf("%v\n%s", err, d.TOML())
		}
		if diff := cmp.Diff(carried(p), carried(back(t, p))); diff != "" {
			t.Fatal(diff)
		}
	})
}

// draft draws a plan: links and tabs, lines on them and on each other, loose
// lines, stated paths, exceptions; complete or partial.
func draft(t *rapid.T) wing.Draft {
	d := wing.Draft{Plan: wing.Plan{Name: "n", Size: "s", Source: wing.Source{Text: "t", Date: "d"}}}
	d.Partial = rapid.Bool().Draw(t, "partial")
	d.AsFound = d.Partial && rapid.Bool().Draw(t, "as found")
	d.PathsFrom = rapid.SampledFrom(wing.Froms).Draw(t, "from")
	m := &maker{t: t, d: &d, taken: map[string]bool{}, onIt: map[wing.Anchor]int{}}
	feet := []wing.Anchor{{Kind: wing.OnHandle}}
	for range rapid.IntRange(1, 3).Draw(t, "branches") {
		branch := m.name("branch")
		d.Risers = append(d.Risers, wing.Riser{Branch: branch, Length: m.length(500)})
		feet = append(feet, wing.Anchor{Kind: wing.OnRiser, Name: branch})
		link := m.name("link")
		d.Links = append(d.Links, wing.Link{Name: link, Branch: branch, Kind: rapid.SampledFrom([]wing.LinkKind{wing.Screw, wing.Soft}).Draw(t, "kind")})
		feet = append(feet, wing.Anchor{Kind: wing.OnLink, Name: link})
	}
	m.lines(feet)
	if d.Partial {
		m.loose()
		m.lonePaths()
	}
	m.exceptions()
	return d
}

type maker struct {
	t     *rapid.T
	d     *wing.Draft
	taken map[string]bool
	onIt  map[wing.Anchor]int
}

// name draws a name that is not taken; it holds a digit, as codes do.
func (m *maker) name(what string) string {
	name := rapid.StringOfN(rapid.RuneFrom([]rune("AaBé漢'=+-#1.")), 1, 8, -1).
		Filter(func(s string) bool { return !m.taken[s+"7"] && wing.IsName(s) }).Draw(m.t, what) + "7"
	m.taken[name] = true
	return name
}

func (m *maker) length(least int64) quantity.Length {
	if m.d.Partial && rapid.Bool().Draw(m.t, "no length") {
		return 0
	}
	return quantity.Length(rapid.Int64Range(least*1000, 9_000_000).Draw(m.t, "length"))
}

func (m *maker) text(what string) string {
	return strings.TrimSpace(rapid.StringOfN(rapid.RuneFrom([]rune(` a,;"'é=`)), 0, 6, -1).Draw(m.t, what))
}

func (m *maker) line(on wing.Anchor, tier wing.Tier) wing.Line {
	m.onIt[on]++
	return wing.Line{
		Code: m.name("code"), Row: m.name("row"), Tier: tier, On: on, Pos: m.onIt[on], Span: -1, Length: m.length(50),
		Material: m.text("material"), Colour: m.text("colour"), Bare: rapid.Bool().Draw(m.t, "bare"),
		Diameter: quantity.Length(rapid.SampledFrom([]int64{0, 650, 1500}).Draw(m.t, "diameter")),
		Strength: quantity.Force(rapid.SampledFrom([]int64{0, 500000, 1274865}).Draw(m.t, "strength")),
	}
}

func (m *maker) lines(feet []wing.Anchor) {
	for _, foot := range feet {
		for range rapid.IntRange(0, 3).Draw(m.t, "lines") {
			l := m.line(foot, wing.Lower)
			above := rapid.IntRange(0, 2).Draw(m.t, "above")
			if above == 0 {
				m.top(&l)
			}
			m.d.Lines = append(m.d.Lines, l)
			for range above {
				u := m.line(wing.Anchor{Kind: wing.OnLine, Name: l.Code}, wing.Upper)
				m.top(&u)
				m.d.Lines = append(m.d.Lines, u)
			}
		}
	}
	if len(m.d.Lines) == 0 {
		l := m.line(feet[0], wing.Lower)
		m.top(&l)
		m.d.Lines = append(m.d.Lines, l)
	}
}

// top gives a line its point, perhaps with a stated path.
func (m *maker) top(l *wing.Line) {
	if m.d.Partial && rapid.Bool().Draw(m.t, "no point") {
		return
	}
	l.Point = m.name("point")
	l.Sewn = rapid.Bool().Draw(m.t, "sewn")
	l.Span = rapid.SampledFrom([]float64{-1, 0, 0.04, 1}).Draw(m.t, "span")
	if rapid.Bool().Draw(m.t, "stated") {
		m.d.Stated = append(m.d.Stated, wing.StatedPath{Point: l.Point, Row: l.Row, Length: 7_213_500})
	}
}

func (m *maker) loose() {
	for range rapid.IntRange(0, 3).Draw(m.t, "loose") {
		l := m.line(wing.Anchor{}, rapid.SampledFrom([]wing.Tier{"", wing.Middle}).Draw(m.t, "tier"))
		l.On, l.Pos = wing.Anchor{}, 0
		l.Unseen = rapid.Bool().Draw(m.t, "unseen")
		l.Bare = l.Bare && !l.Unseen
		m.d.Loose = append(m.d.Loose, l)
	}
}

func (m *maker) lonePaths() {
	for range rapid.IntRange(0, 3).Draw(m.t, "paths") {
		m.d.Stated = append(m.d.Stated, wing.StatedPath{Point: m.name("point"), Row: m.name("row"), Length: 7_000_001})
	}
}

func (m *maker) exceptions() {
	for _, l := range m.d.Lines {
		for _, side := range wing.Sides {
			if !rapid.Bool().Draw(m.t, "differs") {
				continue
			}
			other := l
			other.Length = quantity.Length(rapid.Int64Range(50_000, 9_000_000).Draw(m.t, "other length"))
			other.Bare = rapid.Bool().Draw(m.t, "other sheath")
			if other == l {
				continue
			}
			m.d.Exceptions = append(m.d.Exceptions, wing.Exception{Side: side, Line: other})
		}
	}
}
