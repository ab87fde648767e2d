package record

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"
)

// Source: RFC 8785 section 3.2.2, the sample input and its output. The octets
// of the output are those of section 3.2.4.
func TestCanonicalSampleOfRFC8785(t *testing.T) {
	in := `{
     "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
     "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
     "literals": [null, true, false]
   }`
	want := `{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\u000f\nA'B\"\\\\\"/"}`
	wantCanonical(t, in, want)
}

// Source: RFC 8785 section 3.2.3, sorting of properties by UTF-16 code units.
func TestCanonicalOrderOfRFC8785(t *testing.T) {
	in := `{
     "\u20ac": "Euro Sign",
     "\r": "Carriage Return",
     "\ufb33": "Hebrew Letter Dalet With Dagesh",
     "1": "One",
     "\ud83d\ude00": "Emoji: Grinning Face",
     "\u0080": "Control",
     "\u00f6": "Latin Small Letter O With Diaeresis"
   }`
	order := []string{"Carriage Return", "One", "Control", "Latin Small Letter O With Diaeresis", "Euro Sign", "Emoji: Grinning Face", "Hebrew Letter Dalet With Dagesh"}
	out, err := canonical([]byte(in))
	if err != nil {
		t.Fatal(err)
	}
	at := -1
	for _, name := range order {
		i := strings.Index(string(out), name)
		if i <= at {
			t.Fatalf("%q does not stand behind the one before it in %s", name, out)
		}
		at = i
	}
}

// Source: RFC 8785 appendix B, number serialization samples (IEEE 754 bits and
// the JSON text).
func TestCanonicalNumbersOfRFC8785(t *testing.T) {
	for bits, want := range map[uint64]string{
		0x0000000000000000: "0",
		0x8000000000000000: "0",
		0x0000000000000001: "5e-324",
		0x8000000000000001: "-5e-324",
		0x7fefffffffffffff: "1.7976931348623157e+308",
		0xffefffffffffffff: "-1.7976931348623157e+308",
		0x4340000000000000: "9007199254740992",
		0xc340000000000000: "-9007199254740992",
		0x4430000000000000: "295147905179352830000",
		0x44b52d02c7e14af5: "9.999999999999997e+22",
		0x44b52d02c7e14af6: "1e+23",
		0x44b52d02c7e14af7: "1.0000000000000001e+23",
		0x444b1ae4d6e2ef4e: "999999999999999700000",
		0x444b1ae4d6e2ef4f: "999999999999999900000",
		0x444b1ae4d6e2ef50: "1e+21",
		0x3eb0c6f7a0b5ed8c: "9.999999999999997e-7",
		0x3eb0c6f7a0b5ed8d: "0.000001",
		0x41b3de4355555553: "333333333.3333332",
		0x41b3de4355555554: "333333333.33333325",
		0x41b3de4355555555: "333333333.3333333",
		0x41b3de4355555556: "333333333.3333334",
		0x41b3de4355555557: "333333333.33333343",
		0xbecbf647612f3696: "-0.0000033333333333333333",
		0x43143ff3c1cb0959: "1424953923781206.2",
	} {
		in, err := json.Marshal(math.Float64frombits(bits))
		if err != nil {
			t.Fatal(err)
		}
		wantCanonical(t, fmt.Sprintf("[%s]", in), "["+want+"]")
	}
}

// Source: RFC 8785 section 3.1 (I-JSON, RFC 7493): no duplicate names, no lone
// surrogates.
func TestCanonicalRefusesWhatHasNoOneForm(t *testing.T) {
	for _, in := range []string{`{"a":1,"a":2}`, `{"a":1,"\u0061":2}`, `["\ud800"]`, "[\"\xff\"]", `[NaN]`} {
		if out, err := canonical([]byte(in)); err == nil {
			t.Errorf("%q gives %q, want a refusal", in, out)
		}
	}
}

// An integer above 2^53 would be rounded without a word.
func TestNumbersThatJSONCannotKeepAreRefused(t *testing.T) {
	c := sample(t, false).build().Content
	n := int64(1<<53 + 1)
	c.Tasks[0].Steps[0].Value = &Value{UM: &n}
	if out, err := encode(c); err == nil {
		t.Errorf("a length of 2^53 + 1 µm became %d bytes of JSON", len(out))
	}
	n = 1<<53 - 1
	if _, err := encode(c); err != nil {
		t.Errorf("a length of 2^53 - 1 µm was refused: %v", err)
	}
}

func wantCanonical(t *testing.T, in, want string) {
	t.Helper()
	out, err := canonical([]byte(in))
	if err != nil {
		t.Errorf("%s: %v", in, err)
	} else if string(out) != want {
		t.Errorf("%s gives %s, want %s", in, out, want)
	}
}
