package tui

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/wing"
	"example.org/linewright/procedures"
)

func parseRef(text string) (wing.Ref, error) { return wing.ParseRef(text) }

// walk answers every step as a person would at the screen, and gives the number
// of cards and of key presses. each sees every screen before it is answered.
func (u *user) walk(each func()) (steps, keys int) {
	u.t.Helper()
	press := func(ks ...string) {
		keys += len(ks)
		u.press(ks...)
	}
	for range 500 {
		c := u.due()
		if each != nil {
			each()
		}
		before := u.lines()
		switch {
		case c.Over:
			return steps, keys
		case c.Confirm != nil, c.Waiting != "":
			press("enter")
		case c.Fields[c.At].Kind == procedure.Sign:
			press("1", "enter")
		default:
			u.answer(c, press)
		}
		steps++
		if u.lines() == before {
			u.t.Fatalf("nothing was written at %s:\n%s", c.Key, u.view())
		}
	}
	u.t.Fatal("the walk does not end")
	return 0, 0
}

func (u *user) answer(c job.Card, press func(...string)) {
	f := c.Fields[c.At]
	if p, ok := u.m.top().(*cardPage); ok {
		for p.read < len(p.intro(u.m)) {
			press("enter")
		}
	}
	counting := 0
	if f.Scale != nil {
		for _, r := range f.Scale.Readings {
			if r.Outcome == job.Taken {
				counting++
			}
		}
	}
	switch {
	case f.Kind == procedure.Do, f.Empty:
	case counting > 0 && counting >= f.Scale.Need:
	default:
		number, words, more := strings.Cut(u.reply(c), " ")
		if len(f.Options) > 0 {
			press(number)
			if more {
				press("enter")
				press(strings.Split(words, "")...)
			}
			break
		}
		press(strings.Split(strings.TrimSpace(number+" "+words), "")...)
	}
	press("enter")
}

func TestDumpWalk(t *testing.T) {
	dir := os.Getenv("DUMP")
	if dir == "" {
		t.Skip("no dump")
	}
	size := os.Getenv("SIZE")
	w, h := 80, 24
	if size != "" {
		fmt.Sscanf(size, "%dx%d", &w, &h)
	}
	for _, x := range []struct{ id, target string }{
		{"line-swap", "line:C1.2@left"}, {"link-reclosure", "link:C@left"}, {"pulley-relocation", "brakes"}, {"line-swap", "line:C3.2@left"}, {"line-swap", "line:C2.2@right"},
	} {
		u := sitDown(t, newStore(t, nil), procedures.Files(), w, h, nil)
		u.start(x.id, x.target)
		out := ""
		n := 0
		steps, keys := u.walk(func() { n++; out += fmt.Sprintf("----- %d %s\n%s\n", n, u.due().Key, u.view()) })
		out += fmt.Sprintf("steps %d keys %d\n%s\n", steps, keys, u.view())
		name := strings.NewReplacer(":", "_", "@", "_").Replace(x.id + "_" + x.target)
		os.WriteFile(filepath.Join(dir, name+".txt"), []byte(out), 0o644)
		fmt.Println(x, steps, keys)
	}
}
