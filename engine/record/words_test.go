package record

import (
	"os"
	"strings"
	"testing"
)

func TestEveryProblemHasItsWords(t *testing.T) {
	for _, code := range []Code{
		Missing, Extra, NotPlain, TooLarge, Unreadable, TooMany, NotARecord, OtherEdition, Changed, Damaged, NotRebuilt, NotTheSame,
		SumLine, SumOther, SumNone, SumWrong, HoldPlace, HoldText, HoldRole, HoldTrust, SameSigner, SigBad, SigTrust, SigName, NoSignature,
	} {
		what, do := problem(code, "file", 3, "one thing", "another").Words()
		if !strings.HasPrefix(what, "file line 3: ") || len(what) < 20 || len(do) < 10 {
			t.Errorf("%s: %q, %q", code, what, do)
		}
		if strings.Contains(what+do, "{") {
			t.Errorf("%s leaves a place open: %q, %q", code, what, do)
		}
	}
	if len(wording) != 25 {
		t.Errorf("%d wordings, 25 codes", len(wording))
	}
}

func TestReportSaysTheStatusFirst(t *testing.T) {
	w := sample(t, true)
	dir := w.export()
	whole := load(t, dir)
	for want, r := range map[string]Report{
		"VERIFIED: job 7, Barn wing. Every file is as it was signed":           check(t, os.DirFS(dir), w.allowed()),
		"NOT VOUCHED FOR: job 7, Barn wing. The files fit each other and the":  check(t, os.DirFS(dir), nil),
		"NOT VOUCHED FOR: job 7, Barn wing. The files fit each other, but not": check(t, os.DirFS(dir), []byte{}),
		"NOT VERIFIED: job 7, Barn wing.\n  record.txt: it was changed":        check(t, with(whole, NameText, []byte("x")), w.allowed()),
		"NOT VERIFIED.\n": check(t, with(whole, NameJournal, nil), w.allowed()),
	} {
		const demo = "DEMO: sample data, no statement about any wing.\n"
		words := strings.TrimPrefix(r.Words(), demo)
		if !strings.HasPrefix(words, want) {
			t.Errorf("the report begins %q, want %q", words, want)
		}
		if r.Job != 0 && !strings.HasPrefix(r.Words(), demo) {
			t.Errorf("the report of a demo does not say so: %q", r.Words())
		}
		wantAll(t, words, "A signature proves a key, not a person. This is no statement of airworthiness.")
	}
}
