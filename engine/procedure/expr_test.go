package procedure

import (
	"errors"
	"strings"
	"testing"
)

// known gives every name of these tests a type.
func known(name string) (Type, bool) {
	t, ok := map[string]Type{
		"a": Number, "b": Number, "twin.a": Number, "word": Word, "list": List, "all_a": Numbers, "yes": Truth,
	}[name]
	return t, ok
}

func TestHasGuardsWhatStandsBehindIt(t *testing.T) {
	for text, unguarded := range map[string]string{
		"has(a) && a > 1":                  "",
		"a > 1 && has(a)":                  "a",
		"has(a) and a > 1":                 "",
		"!has(a) || a > 1":                 "",
		"not has(a) or a > 1":              "",
		"has(a) || a > 1":                  "a",
		"has(a) ? a > 1 : true":            "",
		"has(a) ? true : a > 1":            "a",
		"!has(a) ? true : a > 1":           "",
		"has(a) && has(b) && a > b":        "",
		"has(a) && a > b":                  "b",
		"(has(a) || has(b)) && a > 1":      "a",
		"!(has(a) && has(b)) || a > b":     "",
		"!(!has(a) || !has(b)) && a > b":   "",
		"has(a) && (b > 1 || a > 1)":       "b",
		"has(a) && a > 1 || a < 0":         "a",
		"has(twin.a) && twin.a > 1":        "",
		"has(a) && all(list, # == word)":   "word",
		"has(a) && any(all_a, # > a)":      "",
		"min(a, b) > 1":                    "a b",
		"has(a) && !(a > 1) && abs(a) > 0": "",
	} {
		uses, err := names(text)
		if err != nil {
			t.Errorf("%s: %v", text, err)
			continue
		}
		var open []string
		for _, u := range uses {
			if !u.Guarded && u.Name != "list" && u.Name != "all_a" {
				open = append(open, u.Name)
			}
		}
		if got := strings.Join(open, " "); got != unguarded {
			t.Errorf("%s: unguarded %q, want %q", text, got, unguarded)
		}
	}
}

func TestCompileRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"a >":                          "unexpected token EOF",
		"c > 1":                        `"c" is not a value known here`,
		"has(c)":                       `"c" in has() is not a value known here`,
		"a + word > 1":                 `invalid operation: + (mismatched types float64 and string), at column 3 of "a + word > 1"`,
		"a":                            `expected bool, but got float64 in "a"`,
		"now() > a":                    `unknown name now, at column 1 of "now() > a"`,
		"any(1..9, # > a)":             `the operator .. is not for procedures, in "any(1..9, # > a)"`,
		"a matches a":                  "the operator matches is not for procedures",
		strings.Repeat("(", maxText+1): "the expression has 501 characters, at most 500 are read",
	} {
		_, err := compile(text, Truth, known)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%.40s: %v, want %q", text, err, want)
		}
	}
}

func TestEval(t *testing.T) {
	values := map[string]any{"a": 4.0, "b": 0.0, "word": "x", "list": []string{"x", "y"}, "all_a": []float64{1, 4}, "yes": true}
	look := func(name string) (any, bool) {
		v, ok := values[name]
		return v, ok
	}
	for text, want := range map[string]any{
		"a / len(list)":              2.0,
		"3 * 2 / 4":                  1.5,
		"a * 2":                      8.0,
		"len(list)":                  2.0,
		"count(list, # == word)":     1.0,
		"min(all_a) + max(all_a)":    5.0,
		"any(all_a, # > 3)":          true,
		"has(twin.a) && twin.a > 1":  false,
		"has(twin.a) ? twin.a : 7.0": 7.0,
		"word == \"x\" && yes":       true,
		"abs(b - a) <= 4.0":          true,
		// only the way that is gone needs its values
		"word == \"x\" ? a : twin.a":                                4.0,
		"b > 0 ? twin.a : (yes ? 0.0 : twin.a)":                     0.0,
		"has(twin.a) || yes ? (word == \"y\" ? 1.0 : 2.0) : twin.a": 2.0,
	} {
		e, err := compile(text, "", known)
		if err != nil {
			t.Errorf("%s: %v", text, err)
			continue
		}
		if got, err := e.eval(look); err != nil || got != want {
			t.Errorf("%s = %v (%v), want %v", text, got, err, want)
		}
	}
}

// A limit or an expected value that is no number would let everything pass:
// every comparison with NaN is false.
func TestWhatIsNoNumberIsAFault(t *testing.T) {
	look := func(name string) (any, bool) {
		if name == "list" {
			return []string{}, true
		}
		return 0.0, name == "a" || name == "b"
	}
	for _, text := range []string{"1.0 / a", "-1.0 / a", "a / b", "(a / b) * 0.0", "abs(a / b)", "1 / len(list)", "1e300 * 1e300"} {
		e, err := compile(text, Number, known)
		if err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		if v, err := e.eval(look); err == nil {
			t.Errorf("%s gave %v", text, v)
		} else if Absent(err) {
			t.Errorf("%s: %v is taken for a missing value", text, err)
		}
	}
}

// The outcome of a comparison hides the infinity it was made from.
func TestWhatIsNoNumberInsideAComparisonIsAFault(t *testing.T) {
	values := map[string]any{"a": 0.0, "b": 0.0, "word": "y"}
	look := func(name string) (any, bool) {
		v, ok := values[name]
		return v, ok
	}
	for _, text := range []string{"1.0 / a > 5.0", "a / b != 1.0", "abs(a / b) >= 0.0", "word == \"x\" || 1.0 / a > 5.0"} {
		e, err := compile(text, Truth, known)
		if err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		if v, err := e.eval(look); err == nil {
			t.Errorf("%s gave %v", text, v)
		}
	}
}

func TestAbsentValueIsNamed(t *testing.T) {
	e, err := compile("a + twin.a", Number, known)
	if err != nil {
		t.Fatal(err)
	}
	_, err = e.eval(func(name string) (any, bool) { return 1.0, name == "a" })
	if !errors.Is(err, ErrAbsent) || err.Error() != "twin.a: a value is not there yet" {
		t.Errorf("%v", err)
	}
}
