package wing

import (
	"encoding/json"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestRefWords(t *testing.T) {
	for _, c := range []struct {
		ref         Ref
		words, text string
		twin        string
	}{
		{LineRef("C1.2", Left), "C1.2 left", "line:C1.2@left", "C1.2 right"},
		{LinkRef("C", Right), "link C right", "link:C@right", "link C left"},
		{Brakes(), "both brakes", "brakes", "both brakes"},
		{Whole(), "the wing", "wing", "the wing"},
		{Ref{Kind: KindRetainer, Code: "C", Side: Left}, "retainer of link C left", "retainer:C@left", "retainer of link C right"},
		{Ref{Kind: KindPulley, Side: Right}, "brake pulley right", "pulley@right", "brake pulley left"},
		{Ref{}, "", "", ""},
	} {
		equal(t, "words", c.ref.String(), c.words)
		equal(t, "text", c.ref.Text(), c.text)
		equal(t, "twin", c.ref.Twin().String(), c.twin)
	}
	equal(t, "no side has no other", Side("port").Other(), "")
}

func TestParseRefRefuses(t *testing.T) {
	for _, text := range []string{
		"", "line", "line:", "line:@left", "line:C1.2", "line:C1.2@", "line:C1.2@Left", "line:C1.2@port", "C1.2@left",
		"brakes@left", "Brakes", "tab@left", "pulley", "wing@left", "pulley:C@left", "sail:C1@left", "line:C 1@left", "line:C1\x1b@left", "line:C1@2@left", "line:" + strings.Repeat("C", 25) + "@left",
	} {
		if ref, err := ParseRef(text); err == nil {
			t.Errorf("%q became %v", text, ref)
		} else if strings.ContainsRune(err.Error(), '\x1b') {
			t.Errorf("%q: raw control character in the error", text)
		}
	}
}

func TestRefThroughText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		code := rapid.String().Filter(IsName).Draw(t, "code")
		side := rapid.SampledFrom(Sides).Draw(t, "side")
		for _, ref := range []Ref{LineRef(code, side), LinkRef(code, side), Brakes()} {
			got, err := ParseRef(ref.Text())
			if err != nil || got != ref {
				t.Fatalf("%q became %v, %v", ref.Text(), got, err)
			}
			if twin := ref.Twin().Twin(); twin != ref {
				t.Fatalf("twin of the twin of %v is %v", ref, twin)
			}
		}
	})
}

func TestRefInJSON(t *testing.T) {
	in := map[string]Ref{"target": LineRef("C1.2", Left)}
	data, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	equal(t, "json", string(data), `{"target":"line:C1.2@left"}`)
	var out map[string]Ref
	if err := json.Unmarshal(data, &out); err != nil {
		t.Fatal(err)
	}
	equal(t, "back", out["target"], in["target"])
	if err := json.Unmarshal([]byte(`{"target":"C1.2"}`), &out); err == nil {
		t.Error("a bare code was taken")
	}
}
