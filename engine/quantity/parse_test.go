package quantity

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"
)

func TestParseTakes(t *testing.T) {
	for _, c := range []struct {
		kind Kind
		text string
		want int64
	}{
		{KindLength, "4205", 4205000},
		{KindLength, " 4205 ", 4205000},
		{KindLength, "004205", 4205000},
		{KindLength, "0", 0},
		{KindLength, "4205.5", 4205500},
		{KindLength, "4205,5", 4205500},
		{KindLength, "4205 mm", 4205000},
		{KindLength, "4205mm", 4205000},
		{KindLength, "4.205 m", 4205000},
		{KindLength, "4,205m", 4205000},
		{KindLength, "16 cm", 160000},
		{KindLength, "420,5cm", 4205000},
		{KindLength, "1 in", 25400},
		{KindLength, `1"`, 25400},
		{KindLength, "1 ft", 304800},
		{KindLength, "1'", 304800},
		{KindLength, "3 7/8 in", 98425},
		{KindLength, "7/8in", 22225},
		{KindLength, "5 1/2 ft", 1676400},
		{KindLength, `5' 3 7/8"`, 1622425},
		{KindLength, `5'3"`, 1600200},
		{KindLength, `5' 3.5"`, 1612900},
		{KindLength, `5' 7/8"`, 1546225},
		{KindLength, "5 ft 3 7/8 in", 1622425},
		{KindLength, "5′ 3 7/8″", 1622425},
		{KindLength, "5’ 3 7/8”", 1622425},
		{KindLength, "5' 3''", 1600200},
		{KindLength, "4205\u00a0mm", 4205000},
		{KindForce, "50", 50000},
		{KindForce, "50 N", 50000},
		{KindForce, "5 daN", 50000},
		{KindForce, "5kgf", 49033},
		{KindForce, "1 lbf", 4448},
		{KindTorque, "0.9", 900},
		{KindTorque, "0,9 N·m", 900},
		{KindTorque, "0.9 N⋅m", 900},
		{KindTorque, "0.9Nm", 900},
		{KindTorque, "0.9 N*m", 900},
		{KindTorque, "8 lbf·in", 904},
		{KindTorque, "8 lbf*in", 904},
		{KindTorque, "1 lbf·ft", 1356},
		{KindTurns, "5", 5000},
		{KindTurns, "5.25", 5250},
		{KindTurns, "5,25 turns", 5250},
		{KindTurns, "5 1/4", 5250},
		{KindTurns, "5 1/4 turns", 5250},
		{KindTurns, "1/2", 500},
		{KindTurns, "1/3", 333},
		{KindTurns, "2/3 turns", 667},
		{KindTurns, "1 turn", 1000},
		{KindCount, "3", 3},
		{KindCount, "0", 0},
	} {
		got, err := Parse(c.kind, c.text)
		if want := (Value{c.kind, c.want}); err != nil || got != want {
			t.Errorf("Parse(%s, %q) = %+v, %v, want %+v", c.kind, c.text, got, err, want)
		}
	}
}

func TestParseRoundsOnceHalfAwayFromZero(t *testing.T) {
	for text, want := range map[string]Length{
		"0.0004":          0,
		"0.0005":          1,
		"0.00049999":      0,
		"0.0015":          2,
		"4205.0005":       4205001,
		"4205.0004999999": 4205000,
		// 1/64 in is 396.875 µm; a float path through mm could lose the half.
		"1/64 in": 397,
		// Rounded at the metre and again at the millimetre this would be 2.
		"0.0000014999 m": 1,
	} {
		if got, err := ParseLength(text); err != nil || got != want {
			t.Errorf("ParseLength(%q) = %d, %v, want %d", text, got, err, want)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	for _, c := range []struct {
		kind Kind
		text string
		want Code
	}{
		{KindLength, "", CodeEmpty},
		{KindLength, "   ", CodeEmpty},
		{KindLength, "\u00a0", CodeEmpty},
		{KindLength, strings.Repeat("1", MaxTyped+1), CodeTooLong},
		{KindLength, strings.Repeat(" ", MaxTyped+1), CodeTooLong},
		{KindLength, "nan", CodeNotFinite},
		{KindLength, "NaN", CodeNotFinite},
		{KindLength, "inf", CodeNotFinite},
		{KindLength, "-Inf", CodeNotFinite},
		{KindLength, "+infinity", CodeNotFinite},
		{KindLength, "inf mm", CodeNotFinite},
		{KindLength, "∞", CodeNotFinite},
		{KindLength, "0x10", CodeHex},
		{KindLength, "-0X1p-2", CodeHex},
		{KindLength, "1_000", CodeUnderscore},
		{KindLength, "4e3", CodeExponent},
		{KindLength, "4.2E+3 mm", CodeExponent},
		{KindLength, "4,e1", CodeExponent},
		{KindLength, "1.234,5", CodeTwoSeparators},
		{KindLength, "1,234.5 mm", CodeTwoSeparators},
		{KindLength, "1.2.3", CodeTwoSeparators},
		{KindLength, "4..2", CodeTwoSeparators},
		{KindLength, "4205 4206", CodeTwoNumbers},
		{KindLength, "4205, 4206", CodeTwoNumbers},
		{KindLength, "4205;4206", CodeTwoNumbers},
		{KindLength, "4 m 20 cm", CodeTwoNumbers},
		{KindLength, "4205mm4206", CodeTwoNumbers},
		{KindLength, "5' 3", CodeTwoNumbers},
		{KindLength, "4205\n4206", CodeTwoNumbers},
		{KindLength, "-4205", CodeNegative},
		{KindLength, "- 4205 mm", CodeNegative},
		{KindLength, "−4205", CodeNegative},
		{KindLength, "+4205", CodeSign},
		{KindLength, ".5", CodePoint},
		{KindLength, "5.", CodePoint},
		{KindLength, ",5 mm", CodePoint},
		{KindLength, "4 kg", CodeUnit},
		{KindLength, "4 N", CodeUnit},
		{KindLength, "4 nm", CodeUnit},
		{KindLength, "4 MM", CodeUnit},
		{KindLength, "4 mm mm", CodeUnit},
		{KindLength, "4 turns", CodeUnit},
		{KindLength, "3 1/2", CodeFraction},
		{KindLength, "3 1/2 mm", CodeFraction},
		{KindLength, "3 9/8 in", CodeFraction},
		{KindLength, "3 8/8 in", CodeFraction},
		{KindLength, "3 0/8 in", CodeFraction},
		{KindLength, "1/0 in", CodeFraction},
		{KindLength, "3.5 1/2 in", CodeFraction},
		{KindLength, "3/ in", CodeFraction},
		{KindLength, `5.5' 3"`, CodeInches},
		{KindLength, `5' 12"`, CodeInches},
		{KindLength, `5' 11.5.1"`, CodeTwoSeparators},
		{KindLength, "9007199254740.992", CodeOverflow},
		{KindLength, strings.Repeat("9", MaxTyped), CodeOverflow},
		{KindLength, "five", CodeNotANumber},
		{KindLength, "½ in", CodeNotANumber},
		{KindLength, "٤٢", CodeNotANumber},
		{KindLength, "mm", CodeNotANumber},
		{KindLength, "4\xff", CodeNotANumber},
		{KindForce, "5 kg", CodeUnit},
		{KindForce, "5 mm", CodeUnit},
		{KindForce, "5'", CodeUnit},
		{KindForce, `5' 3"`, CodeTwoNumbers},
		{KindForce, "5 1/2", CodeFraction},
		{KindForce, "-5", CodeNegative},
		{KindTorque, "5 N", CodeUnit},
		{KindTurns, "-1/4", CodeNegative},
		{KindTurns, "5 1/4 mm", CodeUnit},
		{KindCount, "2.5", CodeNotWhole},
		{KindCount, "2,0", CodeNotWhole},
		{KindCount, "1/2", CodeFraction},
		{KindCount, "3 lines", CodeUnit},
		{KindCount, "3 4", CodeTwoNumbers},
		{KindCount, "9007199254740992", CodeOverflow},
		{Kind("mass"), "3", CodeKind},
	} {
		got, err := Parse(c.kind, c.text)
		var refused *ParseError
		if !errors.As(err, &refused) {
			t.Errorf("Parse(%s, %q) = %v, %v, want a *ParseError", c.kind, c.text, got, err)
			continue
		}
		if refused.Code != c.want || refused.Typed != c.text || refused.Kind != c.kind {
			t.Errorf("Parse(%s, %q): %s for %q (%s), want %s", c.kind, c.text, refused.Code, refused.Typed, refused.Kind, c.want)
		}
		if got != (Value{}) {
			t.Errorf("Parse(%s, %q) returned %v beside its error", c.kind, c.text, got)
		}
	}
}

func TestMostThatIsTaken(t *testing.T) {
	got, err := ParseLength("9007199254740.991")
	if err != nil || got != Max {
		t.Errorf("got %d, %v, want %d", got, err, int64(Max))
	}
}

func TestTypedParsers(t *testing.T) {
	length, err := ParseLength("4.205 m")
	if err != nil || length != 4205*Millimetre {
		t.Errorf("length %v, %v", length, err)
	}
	force, err := ParseForce("5 daN")
	if err != nil || force != 50*Newton {
		t.Errorf("force %v, %v", force, err)
	}
	torque, err := ParseTorque("2 N·m")
	if err != nil || torque != 2*NewtonMetre {
		t.Errorf("torque %v, %v", torque, err)
	}
	turns, err := ParseTurns("5 1/2")
	if err != nil || turns != 11*Turn/2 {
		t.Errorf("turns %v, %v", turns, err)
	}
	count, err := ParseCount("7")
	if err != nil || count != 7 {
		t.Errorf("count %v, %v", count, err)
	}
}

func TestErrorText(t *testing.T) {
	for _, c := range []struct {
		kind              Kind
		typed, what, cure string
	}{
		{
			KindLength, "", "nothing was typed",
			`type one number such as 4205.5, 420,5 cm, 4.205 m, 3 7/8 in or 5' 3 7/8"`,
		},
		{
			KindLength, "1.234,5", `"1.234,5" is not a length: more than one point or comma`,
			`one point or comma, before the decimals only, such as 4205.5, 420,5 cm, 4.205 m, 3 7/8 in or 5' 3 7/8"`,
		},
		{
			KindLength, "4 kg", `"4 kg" is not a length: the unit "kg" is not one of this kind`,
			"units taken: mm, cm, m, in or ft; a bare number is millimetres",
		},
		{
			KindForce, "5 kg", `"5 kg" is not a force: the unit "kg" is not one of this kind`,
			"kg is a mass: type kgf for the pull of that mass, or N, daN or lbf",
		},
		{
			KindForce, "5 mm", `"5 mm" is not a force: the unit "mm" is not one of this kind`,
			"units taken: N, daN, kgf or lbf; a bare number is newtons",
		},
		{
			KindTorque, "5 N", `"5 N" is not a torque: the unit "N" is not one of this kind`,
			"units taken: N·m, lbf·in or lbf·ft; a bare number is newton metres",
		},
		{
			KindTurns, "5 mm", `"5 mm" is not a number of turns: the unit "mm" is not one of this kind`,
			"units taken: turns; a bare number is turns",
		},
		{
			KindCount, "2.5", `"2.5" is not a count: not a whole number`,
			"type one whole number without a unit such as 3",
		},
		{
			Kind("mass"), "3", `there is no kind of value "mass"`,
			"use length, force, torque, turns or count",
		},
		{
			KindLength, "4\x1b[31mred\x07", `"4\x1b[31mred\a" is not a length: more than one number`,
			`type one number such as 4205.5, 420,5 cm, 4.205 m, 3 7/8 in or 5' 3 7/8"`,
		},
		{
			KindLength, "4 \u202emm\u009b", `"4 \u202emm\u009b" is not a length: the unit "\u202emm\u009b" is not one of this kind`,
			"units taken: mm, cm, m, in or ft; a bare number is millimetres",
		},
		{
			KindLength, "4\xff", `"4\xff" is not a length: no number can be read from it`,
			`type one number such as 4205.5, 420,5 cm, 4.205 m, 3 7/8 in or 5' 3 7/8"`,
		},
		{
			KindLength, strings.Repeat("x", 1000), `"` + strings.Repeat("x", MaxTyped) + `..." is not a length: longer than 64 characters`,
			`type one number such as 4205.5, 420,5 cm, 4.205 m, 3 7/8 in or 5' 3 7/8"`,
		},
	} {
		_, err := Parse(c.kind, c.typed)
		var refused *ParseError
		if !errors.As(err, &refused) {
			t.Fatalf("Parse(%s, %q): %v", c.kind, c.typed, err)
		}
		if got := refused.Error(); got != c.what {
			t.Errorf("Parse(%s, %q): what\n got %s\nwant %s", c.kind, c.typed, got, c.what)
		}
		if got := refused.Cure(); got != c.cure {
			t.Errorf("Parse(%s, %q): cure\n got %s\nwant %s", c.kind, c.typed, got, c.cure)
		}
	}
}

// Every reason has words of its own; the last return of reason is for one only.
func TestEachReasonDiffers(t *testing.T) {
	seen := map[string]Code{}
	for _, code := range []Code{
		CodeEmpty, CodeTooLong, CodeNotFinite, CodeHex, CodeUnderscore, CodeExponent, CodeTwoSeparators,
		CodeTwoNumbers, CodeNegative, CodeUnit, CodeFraction, CodeInches, CodeNotWhole, CodeOverflow,
		CodeSign, CodePoint, CodeNotANumber, CodeKind,
	} {
		text := (&ParseError{Kind: KindLength, Typed: "x", Code: code}).Error()
		if other, ok := seen[text]; ok {
			t.Errorf("%s and %s both say %q", code, other, text)
		}
		seen[text] = code
	}
}

func TestExamplesAreTaken(t *testing.T) {
	for kind, examples := range map[Kind][]string{
		KindLength: {"4205.5", "420,5 cm", "4.205 m", "3 7/8 in", `5' 3 7/8"`},
		KindForce:  {"50", "50 N", "5 daN", "5,1 kgf", "11.2 lbf"},
		KindTorque: {"0.9", "0,9 Nm", "0.9 N·m", "8 lbf*in", "0.7 lbf*ft"},
		KindTurns:  {"5", "5.25", "5 1/4 turns"},
		KindCount:  {"3"},
	} {
		for _, text := range examples {
			if !strings.Contains(kinds[kind].example, text) {
				t.Errorf("%s: %q is no longer an example", kind, text)
			}
			if _, err := Parse(kind, text); err != nil {
				t.Errorf("%s: the example %q is refused: %v", kind, text, err)
			}
		}
	}
}

func TestPrintedValueReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := Value{
			Kind: rapid.SampledFrom([]Kind{KindLength, KindForce, KindTorque, KindTurns, KindCount}).Draw(t, "kind"),
			N:    rapid.Int64Range(0, Max).Draw(t, "n"),
		}
		got, err := Parse(v.Kind, v.String())
		if err != nil || got != v {
			t.Fatalf("%q reads back as %+v, %v, want %+v", v.String(), got, err, v)
		}
	})
}

func TestPointAndCommaSpaceAndNoneAreTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		wholePart := rapid.Uint32().Draw(t, "whole")
		rest := rapid.StringMatching(`[0-9]{1,6}`).Draw(t, "decimals")
		unit := rapid.SampledFrom([]string{"mm", "cm", "m", "in", "ft"}).Draw(t, "unit")
		first, err := ParseLength(fmt.Sprintf("%d.%s %s", wholePart, rest, unit))
		if err != nil {
			t.Fatal(err)
		}
		second, err := ParseLength(fmt.Sprintf("%d,%s%s", wholePart, rest, unit))
		if err != nil || first != second {
			t.Fatalf("%v, then %v, %v", first, second, err)
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, seed := range []string{
		"4205", "4205,5 mm", "420,5cm", "4.205 m", `5' 3 7/8"`, "3 7/8 in", "5 1/4 turns", "5 kgf", "0.9 N·m",
		"nan", "inf", "0x1p-2", "1_000", "1e9", "1.234,5", "1 2", "-5", "", "\x1b]0;x\x07", "\u202e4", "4\xff", "1/0 in",
		"9007199254740.991", "9007199254740.992", "5' 12\"", "''", "'", `"`, "/", " /", ". .", "0x", "+",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for kind := range kinds {
			v, err := Parse(kind, text)
			if err == nil {
				if v.Kind != kind || v.N < 0 || v.N > Max {
					t.Fatalf("%s %q: taken as %+v", kind, text, v)
				}
				if again, err := Parse(kind, v.String()); err != nil || again != v {
					t.Fatalf("%s %q: %v reads back as %v, %v", kind, text, v, again, err)
				}
				continue
			}
			var refused *ParseError
			if !errors.As(err, &refused) || v != (Value{}) {
				t.Fatalf("%s %q: %v, %v", kind, text, v, err)
			}
			for _, line := range []string{refused.Error(), refused.Cure()} {
				if line == "" || strings.ContainsFunc(line, func(r rune) bool { return !unicode.IsPrint(r) }) {
					t.Fatalf("%s %q: not one printable line: %q", kind, text, line)
				}
			}
		}
	})
}
