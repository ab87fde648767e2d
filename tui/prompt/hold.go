package prompt

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strings"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/seal"
	"example.org/linewright/engine/session"
)

// hold says what a signature would state and the ways out of the hold.
func (w *walk) hold(c job.Card, f job.Field, lead string) {
	w.say("%sSTOP. Nothing behind this opens until it is signed.", lead)
	for _, it := range c.Items {
		w.say("Open, and the record says so: %s", it.Text)
	}
	w.say("The signature states: %s", f.States)
	if f.Role == procedure.Doer && c.Next == "" {
		w.say("This signs the work; one more signature comes when the job is closed, for the record.")
	}
	if f.Role != procedure.Second {
		w.say("Something is not so: :reopen STEP REASON, and it is done again. To wait: :lay-down REASON.")
		return
	}
	w.say("Another person than the doer signs, with a key of their own.")
	w.say("Not agreed: :disagree REASON, and the work is done again. Nobody here: :lay-down REASON.")
}

// sign opens the key of the person who was named and signs the hold.
func (w *walk) sign(c job.Card, f job.Field, name string) {
	if err := w.mayNot(c, f, name); err != nil {
		w.notTaken(c, name, err)
		return
	}
	person, err := w.signer(f.Role, name)
	if err != nil {
		w.notTaken(c, name, err)
		return
	}
	e, err := w.s.SignHold(c.Task, person)
	w.told(c, name, e, err)
	if err == nil {
		w.say("Signed by %s %s.", e.Sign.Name, signedWith(e.Sign.Fingerprint, seal.Custody(e.Sign.Custody)))
	}
}

// mayNot refuses a person who cannot sign here before a pass phrase is asked of
// them. What it lets through is judged again when it is signed.
func (w *walk) mayNot(c job.Card, f job.Field, name string) error {
	task, ok := w.s.Job().Task(c.Task)
	if !ok {
		return nil
	}
	slot, ok := task.Unfolded.Slot(f.Key)
	if !ok {
		return nil
	}
	_, public, err := w.o.Desk.Store.ReadSigner(name)
	if errors.Is(err, fs.ErrNotExist) {
		return noKey(w.o.Desk, name)
	}
	if err != nil {
		return err
	}
	key, _, err := seal.ParsePublicKey(public)
	if err != nil {
		return err
	}
	return w.s.Job().MaySign(task, slot, job.Mark{Role: string(f.Role), Name: name, Fingerprint: key.Fingerprint()})
}

// wantsLooker reports whether the second person has to say who they are before
// they answer: what they say stands under their name.
func wantsLooker(c job.Card) bool { return c.Second && c.Looker == "" && c.Due }

// looker takes the name of the second person. One without a key here could not
// sign what they found.
func (w *walk) looker(c job.Card, name string) {
	if _, _, err := w.o.Desk.Store.ReadSigner(name); errors.Is(err, fs.ErrNotExist) {
		w.notTaken(c, name, noKey(w.o.Desk, name))
		return
	} else if err != nil {
		w.notTaken(c, name, err)
		return
	}
	w.enter(c, job.Entry{Kind: job.EnterLook, Task: c.Task, Key: c.Fields[c.At].Key, Text: name})
	if now, err := w.s.Card(c.Task); err == nil && now.Unheard && now.Looker == name {
		w.say("%s looks. Was that the wrong name? :second NAME, before the first answer.", name)
	}
}

// second gives the look to another person, as long as nothing was answered.
func (w *walk) second(c job.Card, name string) {
	switch {
	case wantsLooker(c) && name != "", c.Unheard && name != "":
		w.looker(c, name)
	case c.Unheard:
		w.notTaken(c, name, errors.New("the name of the second person is wanted\n  as in :second NAME"))
	default:
		w.notTaken(c, name, errors.New("no second person can be named here\n"+
			"  they are named before their first answer; after it :disagree WORDS begins the look anew"))
	}
}

// signer gives the key of a person. The doer's stays open for the sitting; a
// second look's is opened anew each time.
func (w *walk) signer(role procedure.Role, name string) (*session.Person, error) {
	if doer := w.s.Doer(); role == procedure.Doer && doer != nil && doer.Name == name {
		return doer, nil
	}
	person, err := w.in.Unlock(w.ctx, w.out, w.o.Desk, name)
	if err != nil || role != procedure.Doer {
		return person, err
	}
	return person, w.s.SetDoer(person)
}

// Unlock opens the key of a person; a pass phrase is asked for on out. Where no
// terminal is there to type it on, an ssh-agent may hold the key.
func (in *Input) Unlock(ctx context.Context, out io.Writer, desk session.Desk, name string) (*session.Person, error) {
	locked, err := desk.Encrypted(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, noKey(desk, name)
	}
	if err != nil {
		return nil, err
	}
	if locked && !in.Terminal() {
		person, err := desk.FromAgent(name)
		if errors.Is(err, seal.NoAgent) || errors.Is(err, seal.NotInAgent) {
			return nil, ErrNoTerminal
		}
		return person, err
	}
	return desk.Unlock(name, func() ([]byte, error) {
		return in.Hidden(ctx, out, fmt.Sprintf("Pass phrase of %s (it is not shown):", name))
	})
}

// noKey names the people whose keys are here.
func noKey(desk session.Desk, name string) error {
	known, err := desk.Store.Signers()
	if err != nil {
		return err
	}
	here := ""
	if len(known) > 0 {
		here = "keys here: " + strings.Join(known, ", ") + "; "
	}
	return fmt.Errorf("there is no key here for %q\n  %sa new one: %s", name, here, desk.Command("signer new NAME"))
}
