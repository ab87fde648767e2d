package store

import (
	"errors"
	"io/fs"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func hours(h float64) *float64 { return &h }

var plan = []byte("plan of the sample wing\n")

// The bytes of edition 1. The hash in the file is sha256sum's.
func TestWingFileOfEdition1(t *testing.T) {
	golden, err := os.ReadFile("testdata/edition-1/wing.toml")
	if err != nil {
		t.Fatal(err)
	}
	s := newStore(t)
	want := Wing{ID: "red-one", Name: "Rote \"Eins\" ½", Serial: "S-0001/b", HoursAtStart: hours(112.5)}
	added, err := s.AddWing(want, plan)
	if err != nil {
		t.Fatal(err)
	}
	written, err := os.ReadFile(s.path("wings/red-one/wing.toml"))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(golden), string(written)); diff != "" {
		t.Error(diff)
	}
	put(t, s, "wings/red-one/wing.toml", string(golden))
	read, err := s.Wing("red-one")
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(added, read); diff != "" {
		t.Error(diff)
	}
	if data, err := s.PlanBytes(read); err != nil || string(data) != string(plan) {
		t.Errorf("plan %q, error %v", data, err)
	}
}

func TestWingsAreListedByName(t *testing.T) {
	s := newStore(t)
	for _, id := range []string{"blue", "a1", "red"} {
		if _, err := s.AddWing(Wing{ID: id, Name: id}, plan); err != nil {
			t.Fatal(err)
		}
	}
	put(t, s, "wings/Upper/wing.toml", "not ours")
	put(t, s, "wings/.cache/wing.toml", "not ours")
	put(t, s, "wings/half/plans/x", "a crash before wing.toml was there")
	put(t, s, "wings/red/wing.toml", "damaged")
	ids, err := s.Wings()
	if diff := cmp.Diff([]string{"a1", "blue", "red"}, ids); diff != "" || err != nil {
		t.Errorf("%s error %v", diff, err)
	}
	if _, err := s.Wing("a1"); err != nil {
		t.Errorf("one damaged wing hides another: %v", err)
	}
	if _, err := s.AddWing(Wing{ID: "half", Name: "half"}, plan); err != nil {
		t.Errorf("a wing cannot be added after a crash: %v", err)
	}
}

func TestAddWingRefuses(t *testing.T) {
	s := newStore(t)
	if _, err := s.AddWing(Wing{ID: "red", Name: "Red"}, plan); err != nil {
		t.Fatal(err)
	}
	for name, w := range map[string]Wing{
		"a taken id":            {ID: "red", Name: "Other"},
		"no id":                 {Name: "x"},
		"an id in capitals":     {ID: "Red", Name: "x"},
		"an id with a dot":      {ID: "a.b", Name: "x"},
		"an id with a newline":  {ID: "a\n", Name: "x"},
		"an id with a hyphen":   {ID: "-a", Name: "x"},
		"an id too long":        {ID: strings.Repeat("a", 42), Name: "x"},
		"a device":              {ID: "con", Name: "x"},
		"another device":        {ID: "com1", Name: "x"},
		"no name":               {ID: "b"},
		"an escape in the name": {ID: "b", Name: "x\x1b[2J"},
		"a newline":             {ID: "b", Name: "x\ny"},
		"a direction override":  {ID: "b", Name: "x\u202ey"},
		"bad UTF-8":             {ID: "b", Name: "x\xff"},
		"a bad serial":          {ID: "b", Name: "x", Serial: "\a"},
		"a name too long":       {ID: "b", Name: strings.Repeat("x", 201)},
		"negative hours":        {ID: "b", Name: "x", HoursAtStart: hours(-1)},
		"nan hours":             {ID: "b", Name: "x", HoursAtStart: hours(math.NaN())},
		"infinite hours":        {ID: "b", Name: "x", HoursAtStart: hours(math.Inf(1))},
	} {
		_, err := s.AddWing(w, plan)
		checkRefusal(t, name, err)
	}
	_, err := s.AddWing(Wing{ID: "b", Name: "x"}, make([]byte, MaxText+1))
	checkRefusal(t, "a plan too large", err)
	if ids, err := s.Wings(); len(ids) != 1 || err != nil {
		t.Errorf("wings are now %v, error %v", ids, err)
	}
}

func TestSetPlanKeepsTheOldOne(t *testing.T) {
	s := newStore(t)
	first, err := s.AddWing(Wing{ID: "red", Name: "Red", HoursAtStart: hours(0)}, plan)
	if err != nil {
		t.Fatal(err)
	}
	second, err := s.SetPlan("red", []byte("second"))
	if err != nil {
		t.Fatal(err)
	}
	if now, err := s.Wing("red"); err != nil || now.Plan != second.Plan || *now.HoursAtStart != 0 {
		t.Errorf("wing %+v, error %v", now, err)
	}
	for w, want := range map[string]string{first.Plan: string(plan), second.Plan: "second"} {
		if data, err := s.PlanBytes(Wing{ID: "red", Plan: w}); err != nil || string(data) != want {
			t.Errorf("plan %s is %q, error %v", w, data, err)
		}
	}
	if _, err := s.SetPlan("blue", plan); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("unknown wing: error %v", err)
	}
}

func TestChangedPlanIsRefused(t *testing.T) {
	s := newStore(t)
	w, err := s.AddWing(Wing{ID: "red", Name: "Red"}, plan)
	if err != nil {
		t.Fatal(err)
	}
	put(t, s, "wings/red/plans/"+w.Plan+".toml", "changed")
	_, err = s.PlanBytes(w)
	checkRefusal(t, "changed plan", err)
	// The same plan given again mends the file.
	if _, err := s.SetPlan("red", plan); err != nil {
		t.Fatal(err)
	}
	if data, err := s.PlanBytes(w); err != nil || string(data) != string(plan) {
		t.Errorf("plan %q, error %v", data, err)
	}
}

func TestWingFileWithFaults(t *testing.T) {
	good, err := os.ReadFile("testdata/edition-1/wing.toml")
	if err != nil {
		t.Fatal(err)
	}
	change := func(old, new string) string {
		if !strings.Contains(string(good), old) {
			t.Fatalf("no %q in the file", old)
		}
		return strings.Replace(string(good), old, new, 1)
	}
	const number = " is not a number to reckon with\ngive a plain decimal number"
	const unknown = "the key is not known here\nknown keys: hours_at_start, id, linewright_wing, name, plan, serial"
	const notTOML = "this is not TOML: "
	const mend = "\nmend the line; the form is described at toml.io"
	s := newStore(t)
	file := s.path("wings/red-one/wing.toml")
	for name, c := range map[string]struct{ text, want string }{
		"edition":       {change("wing = 1", "wing = 2"), ": edition 2, this program reads edition 1\nuse the newer linewright that wrote it"},
		"unknown key":   {change("serial =", "seriall ="), ":4: seriall: " + unknown},
		"key in caps":   {change("name =", "Name ="), ":3: Name: " + unknown},
		"escape in key": {change("serial", "\"\\u001b[2J\""), ": ?[2J: " + unknown},
		"nan":           {change("112.5", "nan"), ":5: hours_at_start: NaN" + number},
		"inf":           {change("112.5", "inf"), ":5: hours_at_start: +Inf" + number},
		"text for hour": {change("112.5", "\"112\""), ":5: hours_at_start: found the text \"112\"\ngive a number"},
		"number for id": {change("\"red-one\"", "7"), ":2: id: found the number 7\ngive a text in quotes"},
		"list for name": {change("name = ", "name = [] # "), ":3: name: found a list\ngive a text in quotes"},
		"not TOML":      {change("id =", "id"), ":2: " + notTOML + "expected '.' or '=', but got '\"' instead" + mend},
		"raw escape":    {change("serial", "\x1b[2J"), ":4: " + notTOML + "TOML files cannot contain control characters: '0x1b'" + mend},
		"bad UTF-8":     {change("Rote", "R\xffte"), ": the file is not UTF-8 text\nsave it again as UTF-8"},
		"another id":    {change("red-one", "red-two"), ":2: id: this is not the name of the folder\nmake both the same"},
		"id leads out":  {change("red-one", "../red-one"), ":2: id: this is not the name of the folder\nmake both the same"},
		"plan no hash":  {change("plan = \"", "plan = \"../"), ":6: plan: this is not a SHA-256\ngive 64 lower case hex digits"},
		"no plan":       {change("plan", "#plan"), ": plan: this is not a SHA-256\ngive 64 lower case hex digits"},
		"control":       {change("S-0001", "\\u001b[2J"), ":4: serial: the text has a control character (U+001B)\nremove it"},
		"C1 control":    {change("S-0001", "\\u009b2J"), ":4: serial: the text has a control character (U+009B)\nremove it"},
		"too large": {string(good) + strings.Repeat("#", MaxSmall),
			": the file cannot be read: the file is too large: more than 65536 bytes\nsee whether this is the right file"},
	} {
		put(t, s, "wings/red-one/wing.toml", c.text)
		_, err := s.Wing("red-one")
		checkRefusal(t, name, err)
		if err.Error() != file+c.want {
			t.Errorf("%s:\ngot  %q\nwant %q", name, err, file+c.want)
		}
	}
	for name, text := range map[string]string{
		"whole hours": change("112.5", "112"),
		"no hours":    change("hours_at_start = 112.5\n", ""),
	} {
		put(t, s, "wings/red-one/wing.toml", text)
		if _, err := s.Wing("red-one"); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestAnyWingGoesRound(t *testing.T) {
	s := newStore(t)
	if _, err := s.AddWing(Wing{ID: "any", Name: "x"}, plan); err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(rt *rapid.T) {
		w := Wing{
			ID:     "any",
			Name:   rapid.StringN(0, 50, 220).Draw(rt, "name"),
			Serial: rapid.StringN(0, 50, 220).Draw(rt, "serial"),
		}
		if rapid.Bool().Draw(rt, "hours known") {
			w.HoursAtStart = hours(rapid.Float64().Draw(rt, "hours"))
		}
		if checkWing(w) != nil {
			return
		}
		put, err := s.putWing(w, plan)
		if err != nil {
			rt.Fatal(err)
		}
		got, err := s.Wing("any")
		if err != nil {
			rt.Fatal(err)
		}
		if diff := cmp.Diff(put, got); diff != "" {
			rt.Fatal(diff)
		}
	})
}

// Whatever stands in a wing file, reading it ends with a wing that can be shown
// or with a refusal that can be shown.
func FuzzWingFile(f *testing.F) {
	good, err := os.ReadFile("testdata/edition-1/wing.toml")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(string(good))
	f.Add("linewright_wing = 1\n\"\\u001b\" = 1\n")
	f.Add("linewright_wing = 1\nname.x = 1\n[[id]]\n")
	f.Add("name = \x1b\n")
	f.Fuzz(func(t *testing.T, text string) {
		w, err := decodeWing("wing.toml", []byte(text), "red-one")
		if err != nil {
			checkRefusal(t, "fuzzed", err)
			return
		}
		if !printable(w.Name+w.Serial) || w.ID != "red-one" || checkSHA(w.Plan) != nil {
			t.Errorf("taken: %+v", w)
		}
	})
}
