package job

import (
	"slices"
	"strings"
	"testing"
)

// While the second person is asked, neither their card nor the overview nor a
// look back says what the doer answered; then all of it is seen again.
func TestASecondLookIsBlind(t *testing.T) {
	r := withTask(t)
	r.to("joint")
	card, err := r.job.Card(1, 1)
	if err != nil || !card.Blind || card.Orders != nil || card.Shown != nil {
		t.Errorf("blind %v, orders %v, shown %v, %v", card.Blind, card.Orders, card.Shown, err)
	}
	if _, err := r.job.CardAt(1, "second_order"); code(err) != LookIsBlind {
		t.Errorf("looked back at the order: %v", err)
	}
	said := func() string {
		rows, err := r.job.Overview(1)
		if err != nil {
			t.Fatal(err)
		}
		var all []string
		for _, row := range rows {
			all = append(all, row.Answer)
		}
		return strings.Join(all, "\n")
	}
	for _, secret := range []string{"C1.1 C1.2 C1.3", "5.25", "4206", "C1.2"} {
		if strings.Contains(said(), secret) {
			t.Errorf("the overview says %s", secret)
		}
	}
	if !strings.Contains(said(), coveredAnswer) || !r.job.Kept(1, "second_order") || r.job.Kept(1, "joint") {
		t.Error("it is not said that answers are covered")
	}

	r.to("second_look")
	if card, _ = r.job.Card(1, 1); card.Blind || len(card.Orders) == 0 || !strings.Contains(said(), "C1.1 C1.2 C1.3") {
		t.Errorf("covered after the last question: %+v", card)
	}
}

// Whoever looks again is not told what was found the first time, and cannot let
// it stand.
func TestALookAgainIsBlindToTheFirst(t *testing.T) {
	r := withTask(t)
	r.to("doer_sign")
	r.must(Entry{Kind: EnterReopen, Key: "turns_closed", Text: "loose"})
	r.to("joint")
	card, _ := r.job.Card(1, 1)
	if f := card.Fields[card.At]; f.State != Void || f.Old != "" || f.Stands {
		t.Errorf("%s: old %q, stands %v", f.State, f.Old, f.Stands)
	}
	rows, _ := r.job.Overview(1)
	i := slices.IndexFunc(rows, func(row Row) bool { return row.Key == "joint" })
	if rows[i].State != Void || rows[i].Answer != "" {
		t.Errorf("%+v", rows[i])
	}
}
