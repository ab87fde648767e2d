package job

import (
	"slices"
	"testing"
)

// With the link open the turns cannot be counted again, and the order hangs on
// the rod: both stand, and the gate is closed against them.
func TestHowALinkWasFoundStands(t *testing.T) {
	r := withTask(t)
	r.to("second_order")
	if got, want := r.job.AsFound(1, "label"), []string{"1/first_order", "1/turns_open"}; !slices.Equal(got, want) {
		t.Errorf("%v stand, want %v", got, want)
	}
	r.must(Entry{Kind: EnterReopen, Key: "label", Text: "look again"})
	if task, _ := r.job.Task(1); task.lastDone != "damage" {
		t.Errorf("the last step done is %s", task.lastDone)
	}
	r.to("loose")
	r.to("second_order")
	rows, err := r.job.Overview(1)
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows {
		if row.Key == "turns_open" && (row.State != Ready || row.Answer != "5 turns") {
			t.Errorf("turns as found: %+v", row)
		}
	}
	if e := r.must(Entry{Kind: EnterAnswer, Key: "second_order", Text: "C1.1 C1.3 C1.2"}); e.Outcome != Open {
		t.Errorf("a crossed order was taken: %+v", e)
	}
	r.to("turns_closed")
	if e := r.must(Entry{Kind: EnterAnswer, Key: "turns_closed", Text: "3"}); e.Outcome != Open {
		t.Errorf("3 turns for 5 were taken: %+v", e)
	}
}

// Nothing was found of a link that was not opened, and nothing stands where
// the line itself is found out again.
func TestHowALinkWasFoundRestsOnWhichLineItIs(t *testing.T) {
	r := withTask(t)
	r.to("turns_open")
	if got := r.job.AsFound(1, "label"); got != nil {
		t.Errorf("before the opening: %v", got)
	}
	if got := r.job.Voids(1, "label"); !slices.Contains(got, "1/first_order") {
		t.Errorf("before the opening the order is not void: %v", got)
	}
	r.to("second_order")
	for _, key := range []string{"side_seen", "place", "joints"} {
		if got := r.job.AsFound(1, key); got != nil {
			t.Errorf("%s: %v stand", key, got)
		}
	}
	if got := r.job.AsFound(1, "turns_open"); got != nil {
		t.Errorf("re-opened itself: %v stand", got)
	}
}
