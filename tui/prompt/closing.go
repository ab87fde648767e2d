package prompt

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"example.org/linewright/engine/job"
)

// close closes the job for good, on a yes.
func (w *walk) close(c job.Card, rest string) {
	en := job.Entry{Kind: job.EnterClose, Text: rest}
	if _, err := w.s.Foresee(en); err != nil {
		w.notTaken(c, rest, err)
		return
	}
	for _, open := range StaysOpen(w.s.Job()) {
		w.say("Open, and the record says so: %s", open)
	}
	if w.yes(c, "Closing is final. Close the job?") {
		w.enter(c, en)
	}
}

// closing takes the closing signatures of a job that is closed, one a line, and
// quits at an empty line.
func (w *walk) closing() {
	w.sayClosed()
	if w.o.RecordJSON == nil {
		w.quit = true
		return
	}
	line, err := w.line()
	text := strings.TrimSpace(line)
	switch {
	case errors.Is(err, io.EOF), err == nil && text == "":
		w.quit = true
	case err != nil:
		w.err = err
	case isCommand(text):
		w.command(job.Card{}, text)
	default:
		w.closeAs(text)
	}
}

func (w *walk) sayClosed() {
	if w.ended {
		return
	}
	w.ended = true
	w.say("")
	w.say("Job %d is closed. Nothing can be added to it.", w.s.No())
	for _, open := range StaysOpen(w.s.Job()) {
		w.say("Open: %s", open)
	}
	w.say("Tag: %s", w.tag())
	w.say("Take the record out with: %s", w.o.Desk.Command(fmt.Sprintf("record export %d -o FOLDER", w.s.No())))
	if w.o.RecordJSON != nil {
		w.say("To sign the record type a role (doer, second, pilot) and a name, as in: doer %s. An empty line ends.", w.s.Who())
	}
}

// closeAs reads a role and a name and signs the record so.
func (w *walk) closeAs(text string) {
	role, name, _ := strings.Cut(text, " ")
	name = strings.TrimSpace(name)
	if (role != "doer" && role != "second" && role != "pilot") || name == "" {
		w.notTaken(job.Card{}, text, fmt.Errorf("a role and a name are wanted\n  as in: doer %s", w.s.Who()))
		return
	}
	if err := w.signRecord(role, name); err != nil {
		w.notTaken(job.Card{}, text, err)
	}
}

func (w *walk) signRecord(role, name string) error {
	data, err := w.o.RecordJSON(w.s.No())
	if err != nil {
		return err
	}
	person := w.s.Doer()
	if role == "second" || person == nil || person.Name != name {
		if person, err = w.in.Unlock(w.ctx, w.out, w.o.Desk, name); err != nil {
			return err
		}
		defer person.Signer.Forget()
	}
	if err := w.s.SignRecord(role, person, data); err != nil {
		return err
	}
	w.say("Saved: record signed as %s by %s %s.", role, name, signedWith(person.Signer.Public().Fingerprint(), person.Signer.Custody()))
	return nil
}

// tag says where the tag of the wing is.
func (w *walk) tag() string { return TagWords(w.s.Job(), w.s.Now()) }
