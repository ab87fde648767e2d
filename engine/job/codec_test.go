package job

import (
	"reflect"
	"strings"
	"testing"
)

func TestEventsComeBackAsTheyWereWritten(t *testing.T) {
	r := withTask(t)
	r.to("")
	for i, e := range r.job.Events() {
		raw, err := Encode(*e)
		if err != nil {
			t.Fatal(err)
		}
		back, err := Decode(raw)
		if err != nil || !reflect.DeepEqual(back, *e) {
			t.Errorf("line %d: %v\n%s", i+1, err, raw)
		}
	}
}

func TestDecodeTakesOneFormOnly(t *testing.T) {
	for raw, want := range map[string]string{
		`{`: "is no entry",
		`{"at":"","who":"","sitting":1,"kind":"note","kind":"note"}`:                         "keys",
		`{"at":"","who":"","sitting":1,"Kind":"note"}`:                                       "keys",
		`{"at":"","who":"","sitting":1,"kind":"note","extra":1}`:                             "keys",
		`{"at":"","who":"","sitting":1,"kind":"reading","task":1}`:                           "without what belongs",
		`{"at":"","who":"","sitting":1,"kind":"sign","task":1}`:                              "without what belongs",
		`{"at":"","who":"","sitting":1,"kind":"answer","value":{"Kind":"mass","N":1}}`:       "without what belongs",
		`{"at":"","who":"","sitting":1,"kind":"answer","photo":{"name":"x","sha256":"../"}}`: "without what belongs",
	} {
		if e, err := Decode([]byte(raw)); err == nil || !strings.Contains(err.Error(), want) || e.Kind != "" {
			t.Errorf("%s: %v", raw, err)
		}
	}
}

func FuzzDecode(f *testing.F) {
	f.Add([]byte(`{"at":"2026-03-01T10:00:00Z","who":"ann","sitting":1,"kind":"note","text":"x"}`))
	f.Fuzz(func(t *testing.T, raw []byte) {
		e, err := Decode(raw)
		if err != nil {
			if !reflect.DeepEqual(e, Event{}) {
				t.Error("an error came with an event")
			}
			return
		}
		again, err := Encode(e)
		if err != nil || string(again) != string(raw) {
			t.Errorf("%s became %s, %v", raw, again, err)
		}
	})
}
