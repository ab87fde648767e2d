package procedures_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
	"example.org/linewright/procedures"
)

// answers are what a person types, by step key; "" is a bare Enter.
type answers map[string]string

// values are the answers as expressions read them.
type values map[string]any

func (v values) Answer(key string) (any, bool) {
	x, ok := v[key]
	return x, ok
}

// bench walks an unfolded procedure as a person does.
type bench struct {
	t     *testing.T
	u     *procedure.Unfolded
	typed answers
	vals  values
	cards []string
	met   []string // keys of the steps that were answered
	keys  int      // without the doer's signature
}

func walk(t *testing.T, u *procedure.Unfolded, typed answers) *bench {
	t.Helper()
	b := &bench{t: t, u: u, typed: typed, vals: values{}}
	for _, s := range u.Slots {
		skip, err := s.Skipped(b.vals)
		if err != nil {
			t.Fatalf("%s: %v", s.Key, err)
		}
		if !skip {
			b.step(s)
		}
	}
	for key := range typed {
		if !slices.Contains(b.met, key) {
			t.Errorf("%s was never asked", key)
		}
	}
	return b
}

func (b *bench) step(s *procedure.Slot) {
	b.t.Helper()
	b.met = append(b.met, s.Key)
	text, given := b.typed[s.Key]
	bare := s.Step.Kind == procedure.Do || s.Step.Kind == procedure.Sign || s.Step.Optional
	if !given && !bare {
		b.t.Fatalf("%s: no answer to %q", s.Key, s.Say(s.Step.Ask, "en", b.vals))
	}
	closing := s.Step.Kind == procedure.Sign && s.Step.Role == procedure.Doer
	if !closing && !slices.Contains(b.cards, s.CardKey) {
		b.cards = append(b.cards, s.CardKey)
	}
	switch s.Step.Kind {
	case procedure.Do:
		b.keys++
	case procedure.Sign:
		if !closing {
			b.keys += 2 // unlock and sign
		}
	case procedure.Measure:
		b.measure(s, text)
	case procedure.Choose, procedure.Check:
		b.keys += 2 // a digit and Enter
		b.option(s, text)
	case procedure.Order:
		b.keys += len(text) + 1
		b.order(s, text)
	case procedure.Count:
		b.keys += len(text) + 1
		b.judge(s, number(b.t, text))
	default:
		b.keys += len(text) + 1
		b.judge(s, text)
	}
}

// measure types the readings, separated by spaces; a step that compares wants
// one Enter more before it lets go.
func (b *bench) measure(s *procedure.Slot, text string) {
	b.t.Helper()
	readings := strings.Fields(text)
	if len(readings) < max(1, s.Step.Readings) {
		b.t.Fatalf("%s: %d readings, want %d", s.Key, len(readings), s.Step.Readings)
	}
	sum := 0.0
	for _, r := range readings {
		b.keys += len(r) + 1
		v := number(b.t, r)
		b.plausible(s, v)
		sum += v
	}
	if s.Step.Limit != "" || s.Step.Against != "" {
		b.keys++
	}
	mean := sum / float64(len(readings))
	b.limit(s, mean)
	b.judge(s, mean)
}

func (b *bench) plausible(s *procedure.Slot, v float64) {
	b.t.Helper()
	if low, ok, err := s.Low(b.vals); err != nil || ok && v < low {
		b.t.Fatalf("%s: %v below %v (%v)", s.Key, v, low, err)
	}
	if high, ok, err := s.High(b.vals); err != nil || ok && v > high {
		b.t.Fatalf("%s: %v above %v (%v)", s.Key, v, high, err)
	}
}

func (b *bench) limit(s *procedure.Slot, v float64) {
	b.t.Helper()
	limit, ok, err := s.Limit(b.vals)
	if err != nil {
		b.t.Fatalf("%s: limit: %v", s.Key, err)
	}
	if !ok {
		return
	}
	want, _, err := s.Expect(b.vals)
	if err != nil {
		b.t.Fatalf("%s: expect: %v", s.Key, err)
	}
	if s.Step.Against != "" {
		key, found := s.KeyOf(s.Step.Against)
		if !found {
			b.t.Fatalf("%s: nothing to compare with under %q", s.Key, s.Step.Against)
		}
		want = b.vals[key].(float64)
	}
	if math.Abs(v-want) > limit {
		b.t.Fatalf("%s: %v is more than %v from %v", s.Key, v, limit, want)
	}
}

func (b *bench) option(s *procedure.Slot, id string) {
	b.t.Helper()
	offered := s.Offered(b.vals)
	at := slices.IndexFunc(offered, func(o *procedure.Option) bool { return o.ID == id })
	switch {
	case at < 0:
		b.t.Fatalf("%s: option %q is not offered", s.Key, id)
	case !offered[at].Stop.Empty():
		b.t.Fatalf("%s: option %q stops: %s", s.Key, id, s.Say(offered[at].Stop, "en", b.vals))
	case s.Step.Kind == procedure.Check && !offered[at].Right:
		b.t.Fatalf("%s: option %q is not right", s.Key, id)
	}
	b.judge(s, id)
}

func (b *bench) order(s *procedure.Slot, text string) {
	b.t.Helper()
	var codes []string
	for _, short := range strings.Fields(text) {
		for _, code := range b.u.Facts["link.order"].([]string) {
			if code == short || strings.HasSuffix(code, "."+short) {
				codes = append(codes, code)
			}
		}
	}
	if s.Step.SameAs != "" {
		want, ok := s.Value(s.Step.SameAs, b.vals)
		if !ok || !slices.Equal(want.([]string), codes) {
			b.t.Fatalf("%s: %v, want %v", s.Key, codes, want)
		}
	}
	b.vals[s.Key] = codes
}

func (b *bench) judge(s *procedure.Slot, value any) {
	b.t.Helper()
	if s.Step.SameAs != "" {
		if want, ok := s.Value(s.Step.SameAs, b.vals); !ok || want != value {
			b.t.Fatalf("%s: %v, want %v", s.Key, value, want)
		}
	}
	ok, err := s.Must(b.vals, map[string]any{"value": value})
	if err != nil || !ok {
		b.t.Fatalf("%s: %v is not taken: %s (%v)", s.Key, value, s.Say(s.Step.Else, "en", b.vals), err)
	}
	b.vals[s.Key] = value
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	var v float64
	if _, err := fmt.Sscan(text, &v); err != nil {
		t.Fatalf("%q is no number: %v", text, err)
	}
	return v
}

var readOnce = sync.OnceValues(func() (*procedure.Library, error) { return procedure.NewLibrary(procedures.Files()) })

func library(t testing.TB) *procedure.Library {
	t.Helper()
	lib, err := readOnce()
	if err != nil {
		t.Fatal(err)
	}
	return lib
}

var planOnce = sync.OnceValues(func() (*wing.Plan, error) {
	data, err := procedures.Sample.ReadFile("sample/plan.toml")
	if err != nil {
		return nil, err
	}
	return wing.ParsePlan(data, "sample/plan.toml")
})

func samplePlan(t testing.TB) *wing.Plan {
	t.Helper()
	plan, err := planOnce()
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

func unfold(t testing.TB, id, target string) (*procedure.Unfolded, error) {
	t.Helper()
	p, ok := library(t).Get(id)
	if !ok {
		t.Fatalf("no procedure %s", id)
	}
	ref, err := wing.ParseRef(target)
	if err != nil {
		t.Fatal(err)
	}
	return procedure.Unfold(p, samplePlan(t), ref)
}

func mustUnfold(t testing.TB, id, target string) *procedure.Unfolded {
	t.Helper()
	u, err := unfold(t, id, target)
	if err != nil {
		t.Fatal(err)
	}
	return u
}
