package reckon_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/reckon"
)

// Each sum as a person and a program see it. The numbers of knot and path are
// those of engine/wing; the free play of 135 mm at 15° is published practice
// worked out: 135·(1 − cos 15°) = 4.6 mm.
func TestSums(t *testing.T) {
	good := reckon.Env{Bench: goodBench(t)}
	bad := reckon.Env{Bench: badBench(t)}
	planned := reckon.Env{Bench: goodBench(t), Plan: samplePlan(t)}
	unset := reckon.Env{Bench: metrology.DefaultBench()}
	for _, c := range []struct {
		name   string
		env    reckon.Env
		sum    string
		answer bool
		pairs  []string
	}{
		{"length", good, "length", true, []string{"reading=4207", "reading=4208", "nominal=4205", "limit=10", "state=loose", "strength=1500 N", "material=UHMWPE"}},
		{"length_outside", good, "length", false, []string{"reading=421,8 cm", "nominal=4205", "strength=1500", "material=UHMWPE"}},
		{"length_bad_bench", bad, "length", false, []string{"reading=4208", "nominal=4205", "limit=5", "strength=1500"}},
		{"length_more_readings", good, "length", false, []string{"reading=4205", "nominal=4205", "limit=1.5", "strength=1500", "material=aramid"}},
		{"length_default", unset, "length", false, []string{"reading=4207 4208", "nominal=4205"}},
		{"length_plan", planned, "length", true, []string{"reading=4209", "line=C1.2@left"}},
		{"length_plain", good, "length", true, []string{"reading=135", "nominal=135", "limit=5", "state=plain"}},
		{"pair", good, "pair", true, []string{"first=4207", "first=4207.5", "second=4209", "strength=1500", "material=UHMWPE"}},
		{"pair_plan", planned, "pair", false, []string{"first=4207", "second=4211", "line=C1.2@left"}},
		{"path", good, "path", true, []string{"riser=510", "segment=4205", "segment=1510 612.5", "joint=-3", "loop=1 cm", "change=-8", "points_above=3", "points_of_row=4"}},
		{"path_plan", planned, "path", true, []string{"point=C7", "side=right", "change=-8 mm", "code=C1.2"}},
		{"knot_up", good, "knot", true, []string{"from=300", "to=435", "tail=60", "free_play=12 cm", "angle=15°"}},
		{"knot_short", good, "knot", false, []string{"from=435", "to=300", "tail=160", "least_tail=60"}},
		{"knot_braked", good, "knot", false, []string{"from=300", "to=435", "tail=160", "free_play=3", "angle=15"}},
		{"knot_plan", planned, "knot", true, []string{"from=" + samplePlan(t).Brake.Pulleys[0].Name, "to=" + samplePlan(t).Brake.Pulleys[1].Name, "tail=250"}},
		{"strength", good, "strength", true, []string{"mass=110 kg", "front=12 24 48", "rear=10", "rear=20", "rear=40"}},
		{"strength_weak", good, "strength", false, []string{"mass=110", "front=12", "substitute=70 kgf", "group=a+b", "storey=1"}},
		{"strength_plan", planned, "strength", true, []string{"substitute=1300 N", "line=C1.2@left"}},
		{"twist", good, "twist", true, []string{"length=7 m", "turns=10"}},
		{"thread", good, "thread", true, []string{"thread=3", "pitch=0.6", "source=the link's sheet"}},
		{"spanner", good, "spanner", true, []string{"torque=1", "radius=80"}},
	} {
		r := do(t, c.sum, c.env, c.pairs...)
		if r.Answer != c.answer {
			t.Errorf("%s: the answer is %t", c.name, r.Answer)
		}
		if line, ok := fits(r); !ok {
			t.Errorf("%s: too wide: %q", c.name, line)
		}
		golden(t, c.name+".txt", "linewright reckon "+c.sum+" "+strings.Join(c.pairs, " | ")+"\n\n"+printed(t, r))
	}
}

func TestEverySumIsWhole(t *testing.T) {
	kinds := map[reckon.Kind]bool{
		reckon.KindReadings: true, reckon.KindLength: true, reckon.KindSigned: true, reckon.KindForce: true, reckon.KindTorque: true,
		reckon.KindTurns: true, reckon.KindCount: true, reckon.KindNumber: true, reckon.KindChoice: true, reckon.KindText: true,
	}
	seen := map[string]bool{}
	for _, s := range reckon.Sums() {
		if s.ID == "" || s.Title == "" || s.Purpose == "" || seen[s.ID] {
			t.Errorf("%+v", s)
		}
		seen[s.ID] = true
		names := map[string]bool{}
		for i, f := range s.Fields {
			if f.Name == "" || f.Ask == "" || !kinds[f.Kind] || names[f.Name] || strings.Trim(f.Name, "abcdefghijklmnopqrstuvwxyz_") != "" {
				t.Errorf("%s: %+v", s.ID, f)
			}
			if (f.Kind == reckon.KindChoice) != (len(f.Options) > 0) || f.Fallback != "" && !f.Optional || f.First && i > 0 {
				t.Errorf("%s: %+v", s.ID, f)
			}
			names[f.Name] = true
		}
	}
	if _, ok := reckon.Find("loops"); ok {
		t.Error("a sum that is not there was found")
	}
}

func TestRefusals(t *testing.T) {
	good := reckon.Env{Bench: goodBench(t)}
	planned := reckon.Env{Bench: goodBench(t), Plan: samplePlan(t)}
	unset := reckon.Env{Bench: simple()}
	var all strings.Builder
	for _, c := range []struct {
		env   reckon.Env
		sum   string
		pairs []string
	}{
		{good, "length", nil},
		{good, "length", []string{"reading=  ", "nominal=4205"}},
		{good, "length", []string{"reading=4205"}},
		{good, "length", []string{"reading=x", "nominal=4205"}},
		{good, "length", []string{"reading=4205 N", "nominal=4205"}},
		{good, "length", []string{"reading=nan", "nominal=4205"}},
		{good, "length", []string{"reading=4205", "nominal=-5"}},
		{good, "length", []string{"reading=4205", "nominal=4205", "nominal=4206"}},
		{good, "length", []string{"reading=4205", "nominal=4205", "limit=0"}},
		{good, "length", []string{"reading=200 m", "nominal=4205"}},
		{good, "length", []string{"reading=4205", "nominal=4205", "state=wet"}},
		{good, "length", []string{"reading=4205", "nominal=4205", "strength=5 kg"}},
		{good, "length", []string{"reading=4205", "nominal=4205", "plan_pull=80"}},
		{good, "length", []string{"reading=4205", "nominal=4205", "colour=red"}},
		{good, "length", []string{"reading=4205", "nominal=4205", "line=C1.2@left"}},
		{good, "length", []string{"reading=4205", "nominal=4205", "spread=3"}},
		{good, "length", []string{"reading=4205 4212", "nominal=4205"}},
		{good, "length", []string{"reading=4205 4212 4206", "nominal=4205"}},
		{unset, "length", []string{"reading=4205 4209", "nominal=4205"}},
		{unset, "length", []string{"reading=4205 4209 4206", "nominal=4205", "spread=2"}},
		{unset, "length", []string{"reading=4205 4208.1 4206", "nominal=4205"}},
		{planned, "length", []string{"reading=4205", "line=c1.2@left"}},
		{planned, "length", []string{"reading=4205", "line=C1.2"}},
		{planned, "length", []string{"reading=4205", "line=\x1b[31m"}},
		{good, "pair", []string{"first=4205"}},
		{good, "pair", []string{"first=4205", "second=4205 4216"}},
		{good, "path", nil},
		{good, "path", []string{"riser=510"}},
		{good, "path", []string{"riser=5", "segment=4205"}},
		{good, "path", []string{"riser=510", "segment=4205", "joint=--3"}},
		{good, "path", []string{"riser=510", "segment=4205", "code=C1"}},
		{good, "path", []string{"riser=510", "segment=4205", "points_above=2"}},
		{good, "path", []string{"riser=510", "segment=4205", "change=-8", "points_above=2"}},
		{good, "path", []string{"riser=510", "segment=4205", "change=-8", "points_above=5", "points_of_row=4"}},
		{planned, "path", []string{"point=C99"}},
		{planned, "path", []string{"point=C7", "riser=510"}},
		{planned, "path", []string{"point=C7", "change=1", "code=c1.2"}},
		{planned, "path", []string{"point=C7", "side=up"}},
		{good, "knot", []string{"from=up", "to=435", "tail=60"}},
		{good, "knot", []string{"from=300", "to=435", "tail=60", "angle=90"}},
		{good, "knot", []string{"from=300", "to=435", "tail=60", "angle=NaN"}},
		{good, "knot", []string{"from=300", "to=435", "tail=-1"}},
		{planned, "knot", []string{"from=" + samplePlan(t).Brake.Pulleys[0].Name, "to=cellar", "tail=60"}},
		{planned, "knot", []string{"from=roof", "to=cellar", "tail=60"}},
		{good, "strength", nil},
		{good, "strength", []string{"mass=heavy", "front=12"}},
		{good, "strength", []string{"mass=5", "front=12"}},
		{good, "strength", []string{"mass=110", "front=12 x"}},
		{good, "strength", []string{"mass=110", "front=24 12"}},
		{good, "strength", []string{"mass=110", "front=12", "substitute=1000"}},
		{good, "strength", []string{"mass=110", "front=12", "substitute=1000", "group=D", "storey=1"}},
		{good, "strength", []string{"mass=110", "front=12", "substitute=1000", "group=A+B", "storey=7"}},
		{good, "strength", []string{"mass=110", "front=12", "substitute=0", "group=A+B", "storey=1"}},
		{good, "twist", []string{"length=7 m", "turns=many"}},
		{good, "twist", []string{"length=7 m", "turns=5", "diameter=0"}},
		{good, "twist", []string{"length=7 m", "turns=100000"}},
		{good, "thread", []string{"thread=3", "pitch=0"}},
		{good, "spanner", []string{"torque=1", "radius=80", "source=a\x07b"}},
		{good, "spanner", []string{"torque=1 kg", "radius=80"}},
	} {
		r, err := find(t, c.sum).Do(values(c.pairs...), c.env)
		var refused *reckon.Refusal
		if !errors.As(err, &refused) || refused.What == "" || refused.Cure == "" || r.JSON != nil || r.Rows != nil {
			t.Errorf("%s %q: %+v, %v", c.sum, c.pairs, r, err)
			continue
		}
		all.WriteString(strings.ToValidUTF8(c.sum+" "+strings.Join(c.pairs, " | "), "?") + "\n  " + strings.ReplaceAll(err.Error(), "\n", "\n  ") + "\n")
	}
	golden(t, "refusals.txt", strings.NewReplacer("\x1b", "<ESC>", "\x07", "<BEL>").Replace(all.String()))
}

// Whatever is typed, nothing panics, no NaN comes out, and no line is too wide
// or holds a control character.
func TestAnyText(t *testing.T) {
	plan := samplePlan(t)
	benches := []metrology.Bench{goodBench(t), badBench(t), metrology.NewBench(), metrology.DefaultBench()}
	wild := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{
		"0", "-3", "1e9", "NaN", "inf", "9007199254740 mm", "9007199254740991", "C1.2@left", "5' 3 7/8\"", ";;", "0.001", "12 m", "110 kg",
	}))
	fitting := map[reckon.Kind]*rapid.Generator[string]{
		reckon.KindReadings: rapid.SampledFrom([]string{"4205", "4206.5 mm", "420.6 cm", "4205 4206", "135", "12 m"}),
		reckon.KindLength:   rapid.SampledFrom([]string{"4205", "10", "0.5 mm", "300", "435", "510 mm", "60", "3"}),
		reckon.KindSigned:   rapid.SampledFrom([]string{"-8", "3 mm", "0"}),
		reckon.KindForce:    rapid.SampledFrom([]string{"1500", "50 N", "70 kgf", "0.001"}),
		reckon.KindTorque:   rapid.SampledFrom([]string{"1", "0.9 N·m"}),
		reckon.KindTurns:    rapid.SampledFrom([]string{"10", "5 1/4", "0"}),
		reckon.KindCount:    rapid.SampledFrom([]string{"1", "2", "12", "12 24 48"}),
		reckon.KindNumber:   rapid.SampledFrom([]string{"15", "110", "0", "89.999", "20.5"}),
		reckon.KindText:     rapid.SampledFrom([]string{"300", "435", "high", "low", "C1.2@left", "C1.2", "C7", "UHMWPE", "the sheet"}),
	}
	done := 0
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(reckon.Sums()).Draw(t, "sum")
		env := reckon.Env{Bench: rapid.SampledFrom(benches).Draw(t, "bench")}
		if rapid.Bool().Draw(t, "plan") {
			env.Plan = plan
		}
		v := reckon.Values{}
		for _, f := range s.Fields {
			if !f.Optional || rapid.Bool().Draw(t, "give "+f.Name) {
				texts := fitting[f.Kind]
				if f.Kind == reckon.KindChoice {
					texts = rapid.SampledFrom(f.Options)
				}
				if rapid.IntRange(0, 19).Draw(t, "wild") == 19 {
					texts = wild
				}
				v[f.Name] = rapid.SliceOfN(texts, 1, 3).Draw(t, f.Name)
				if !f.Many {
					v[f.Name] = v[f.Name][:1]
				}
			}
		}
		r, err := s.Do(v, env)
		if err != nil {
			if strings.ContainsAny(err.Error(), "\x00\x1b\x07") || strings.Count(err.Error(), "\n") != 1 {
				t.Fatalf("%q", err.Error())
			}
			return
		}
		done++
		if line, ok := fits(r); !ok {
			t.Fatalf("%q", line)
		}
		text, err := json.Marshal(r.JSON) // fails on NaN and infinity
		if err != nil || len(text) == 0 {
			t.Fatal(err)
		}
		for _, row := range r.Rows {
			// A text of the person's is said again as it is.
			for _, none := range []string{"NaN", "Inf"} {
				if strings.Contains(row.Text, none) && !strings.Contains(fmt.Sprint(v), none) {
					t.Fatalf("%+v", row)
				}
			}
		}
	})
	if done == 0 {
		t.Error("nothing was reckoned")
	}
}

// Sums of lengths that can be reckoned are drawn more often here than any text
// allows.
func TestAnyLength(t *testing.T) {
	benches := []metrology.Bench{goodBench(t), badBench(t), metrology.NewBench(), metrology.DefaultBench()}
	mm := func(low, high float64) *rapid.Generator[string] {
		return rapid.Map(rapid.Float64Range(low, high), func(x float64) string {
			text, _ := json.Marshal(math.Round(x*10) / 10)
			return string(text)
		})
	}
	length := find(t, "length")
	rapid.Check(t, func(t *rapid.T) {
		reading := mm(50, 12000).Draw(t, "reading")
		r, err := length.Do(values("reading="+reading, "nominal="+mm(50, 12000).Draw(t, "nominal"),
			"limit="+mm(0.1, 100).Draw(t, "limit"), "strength="+mm(200, 5000).Draw(t, "strength")),
			reckon.Env{Bench: rapid.SampledFrom(benches).Draw(t, "bench")})
		if err != nil {
			t.Fatal(err)
		}
		if line, ok := fits(r); !ok {
			t.Fatalf("%q", line)
		}
		if inside := strings.HasSuffix(r.Rows[0].Text, ": inside"); inside != r.Answer {
			t.Fatalf("%q, but the answer is %t", r.Rows[0].Text, r.Answer)
		}
	})
}
