package tui

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/seal"
	"example.org/linewright/engine/session"
	"example.org/linewright/engine/store"
	"example.org/linewright/engine/wing"
	"example.org/linewright/procedures"
)

// clock is a clock that stands still between keys.
type clock struct{ t time.Time }

func (c *clock) now() time.Time { return c.t }

// judge is what a check needs of a test, whether rapid runs it or not.
type judge interface {
	Helper()
	Fatal(...any)
	Fatalf(string, ...any)
}

// user drives a bench as a person does, without a terminal: a key, then all
// that it sets going is done, then a second passes.
type user struct {
	t     judge
	m     *model
	clock *clock
	quit  bool
	slept bool
	say   map[string]string // answers to give, by step without its side
}

// newStore makes a store with the sample wing, the keys of anna and bea, and
// the people who are trusted.
func newStore(t testing.TB, phrases map[string]string) *store.Store {
	t.Helper()
	st, err := store.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { st.Close() })
	plan, err := procedures.Sample.ReadFile("sample/plan.toml")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := st.AddWing(store.Wing{ID: "sample", Name: "Sample wing", Serial: "0042"}, plan); err != nil {
		t.Fatal(err)
	}
	var allowed []byte
	for _, name := range []string{"anna", "bea"} {
		private, public, err := seal.NewKey(name, []byte(phrases[name]))
		if err != nil {
			t.Fatal(err)
		}
		if err := st.WriteSigner(name, private, public); err != nil {
			t.Fatal(err)
		}
		key, _, err := seal.ParsePublicKey(public)
		if err != nil {
			t.Fatal(err)
		}
		if allowed, err = seal.Append(allowed, name, key); err != nil {
			t.Fatal(err)
		}
	}
	if err := st.WriteAllowedSigners(allowed); err != nil {
		t.Fatal(err)
	}
	return st
}

// small is the procedure that tests walk through: one step of each kind.
func small(t testing.TB) []procedure.File {
	t.Helper()
	data, err := os.ReadFile("testdata/small.toml")
	if err != nil {
		t.Fatal(err)
	}
	return []procedure.File{{Name: "small.toml", Data: data}}
}

// sitDown begins a sitting on a screen of w × h.
func sitDown(t testing.TB, st *store.Store, files []procedure.File, w, h int, change func(*Options)) *user {
	t.Helper()
	c := &clock{time.Date(2026, 11, 3, 10, 0, 0, 0, time.UTC)}
	o := Options{Desk: session.Desk{Store: st, Procedures: files, Who: "anna", Clock: c.now}}
	if change != nil {
		change(&o)
	}
	u := &user{t: t, clock: c}
	u.m = newModel(o, c.now)
	u.m.can = termenv.Ascii
	u.m.dress(store.Looks[0])
	t.Cleanup(func() {
		if err := u.m.hands.leave(); err != nil {
			t.Error(err)
		}
	})
	u.size(w, h)
	u.run(u.m.Init())
	u.wait()
	return u
}

func (u *user) wait() { u.clock.t = u.clock.t.Add(time.Second) }

func (u *user) size(w, h int) { u.send(tea.WindowSizeMsg{Width: w, Height: h}) }

// send gives a message and does what it sets going.
func (u *user) send(msg tea.Msg) {
	_, cmd := u.m.Update(msg)
	u.run(cmd)
}

func (u *user) run(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	switch msg := cmd().(type) {
	case nil:
	case tea.QuitMsg:
		u.quit = true
	case tea.SuspendMsg:
		u.slept = true
	case tea.BatchMsg:
		for _, c := range msg {
			u.run(c)
		}
	default:
		u.send(msg)
	}
}

var named_ = map[string]tea.KeyType{
	"enter": tea.KeyEnter, "esc": tea.KeyEsc, "tab": tea.KeyTab, "up": tea.KeyUp, "down": tea.KeyDown,
	"left": tea.KeyLeft, "right": tea.KeyRight, "backspace": tea.KeyBackspace, "ctrl+c": tea.KeyCtrlC,
	"ctrl+z": tea.KeyCtrlZ, "ctrl+j": tea.KeyCtrlJ, "home": tea.KeyHome, "end": tea.KeyEnd, "pgup": tea.KeyPgUp, "pgdown": tea.KeyPgDown,
	"delete": tea.KeyDelete, "ctrl+u": tea.KeyCtrlU,
}

func keyOf(name string) tea.KeyMsg {
	if k, ok := named_[name]; ok {
		return tea.KeyMsg{Type: k}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)}
}

// press presses keys by name, a second apart.
func (u *user) press(keys ...string) *user {
	for _, k := range keys {
		u.send(keyOf(k))
		u.wait()
	}
	return u
}

// types types characters one by one, a second apart.
func (u *user) types(text string) *user {
	for _, r := range text {
		u.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}})
		u.wait()
	}
	return u
}

// view is the screen as text, without the wish for the cursor.
func (u *user) view() string {
	rest, _, _ := cut([]byte(u.m.View()))
	lines := strings.Split(ansi.Strip(string(rest)), "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return strings.Join(lines, "\n")
}

// sees checks that the screen shows all these texts.
func (u *user) sees(texts ...string) *user {
	u.t.Helper()
	for _, text := range texts {
		if !strings.Contains(u.view(), text) {
			u.t.Fatalf("the screen does not show %q:\n%s", text, u.view())
		}
	}
	return u
}

func (u *user) seesNot(texts ...string) *user {
	u.t.Helper()
	for _, text := range texts {
		if strings.Contains(u.view(), text) {
			u.t.Fatalf("the screen shows %q:\n%s", text, u.view())
		}
	}
	return u
}

// picks marks the item of a list that begins with a text, and takes it.
func (u *user) picks(text string) *user {
	u.t.Helper()
	for range 30 {
		for _, l := range strings.Split(u.view(), "\n") {
			if strings.HasPrefix(l, "  > ") && strings.HasPrefix(strings.TrimLeft(l, " >0123456789"), text) {
				return u.press("enter")
			}
		}
		u.press("down")
	}
	u.t.Fatalf("the list has no %q:\n%s", text, u.view())
	return u
}

// lines counts what is written in the job that is open.
func (u *user) lines() int {
	if u.m.session == nil {
		return 0
	}
	return u.m.session.Job().Lines
}

// start begins a job on the sample wing with the procedure on a target, from
// the first screen.
func (u *user) start(id, target string) *user {
	u.t.Helper()
	return u.startOn("sample", id, target)
}

func (u *user) startOn(wing, id, target string) *user {
	u.t.Helper()
	s, err := u.m.desk.Start(session.New{Wing: wing})
	if err != nil {
		u.t.Fatal(err)
	}
	ref, err := parseRef(target)
	if err != nil {
		u.t.Fatal(err)
	}
	if _, err := s.AddTask(id, ref, ""); err != nil {
		u.t.Fatal(err)
	}
	no := s.No()
	if err := s.Close(); err != nil {
		u.t.Fatal(err)
	}
	u.run(u.m.openJob(no, 0))
	u.wait()
	return u
}

// due is the card that the screen shows.
func (u *user) due() job.Card {
	u.t.Helper()
	c, err := u.m.session.Card(u.m.task)
	if err != nil {
		u.t.Fatal(err)
	}
	return c
}

// reply finds an entry that the due step would take, by trying.
func (u *user) reply(c job.Card) string {
	f := c.Fields[c.At]
	id, _, _ := strings.Cut(f.Key, "@")
	if text, ok := u.say[id]; ok {
		return text
	}
	var tries []string
	for i := range f.Options {
		tries = append(tries, fmt.Sprint(i+1), fmt.Sprintf("%d a reason", i+1))
	}
	t, _ := u.m.session.Job().Task(c.Task)
	if codes, ok := t.Unfolded.Facts["link.codes"].(string); ok {
		tries = append(tries, codes)
	}
	tries = append(tries, t.Add.Target.Code)
	if s, ok := t.Unfolded.Slot(f.Key); ok && s.Step.Observes != "" && len(f.Options) == 0 {
		joint, _ := strconv.Atoi(f.Key[len(f.Key)-1:])
		if v, ok := u.m.at.plan.Feature(t.Add.Target, wing.Feature(s.Step.Observes), joint); ok {
			tries = append([]string{v}, tries...)
		}
	}
	if f.Scale != nil && f.Scale.HasValue {
		tries = append(tries, fmt.Sprint(f.Scale.Expected.MM()))
	}
	if f.Kind == procedure.Note || f.Kind == procedure.Code {
		tries = append(tries, "words")
	}
	if l, ok := u.m.at.plan.LineAt(t.Add.Target); ok {
		tries = append(tries, fmt.Sprint(l.Length.MM()))
	}
	tries = append(tries, "300", "5", "135")
	for n := range 40 {
		tries = append(tries, fmt.Sprint(n), fmt.Sprint(n*100))
	}
	for _, text := range tries {
		e, err := u.m.session.Foresee(job.Entry{Kind: job.EnterAnswer, Task: c.Task, Key: f.Key, Text: text})
		if err == nil && e.Outcome == job.Taken {
			return text
		}
	}
	u.t.Fatalf("no entry is taken by %s\n%s", f.Key, u.view())
	return ""
}
