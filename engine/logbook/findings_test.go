package logbook

import (
	"slices"
	"strings"
	"testing"

	"example.org/linewright/engine/job"
)

const (
	march1 = "2026-03-01T10:00:00Z"
	april1 = "2026-04-01T10:00:00Z"
	may1   = "2026-05-01T10:00:00Z"
	june1  = "2026-06-01T10:00:00Z"
)

// one gives the only entry of a list.
func one(t *testing.T, list []Entry) Entry {
	t.Helper()
	if len(list) != 1 {
		t.Fatalf("%d findings, want one: %+v", len(list), list)
	}
	return list[0]
}

func TestTheFirstDateStaysThroughThreeJobs(t *testing.T) {
	h := newHangar(t)
	first := h.begin(march1, 0)
	id := first.find("A1.1", "fluffy")
	first.postpone(id, job.Deferral{Until: "2026-04-15"}, "no part")
	first.close()
	second := h.begin(april1, 0)
	second.postpone(id, job.Deferral{Until: "2026-05-15"}, "still no part")
	second.close()
	third := h.begin(may1, 0)
	third.postpone(id, job.Deferral{Until: "2026-07-15"}, "ordered")
	b := h.book("2026-06-01")
	e := one(t, b.Deferred)
	if e.ID != "1/3-h" || e.At != march1 || e.Who != "ann" {
		t.Errorf("%s found %s by %s; want 1/3-h, %s, ann", e.ID, e.At, e.Who, march1)
	}
	if e.Job != 3 || e.Deferred.Until != "2026-07-15" || e.Deferred.Reason != "ordered" || !slices.Equal(e.In, []int{1, 2, 3}) {
		t.Errorf("last word %+v of job %d, known to %v", e.Deferred, e.Job, e.In)
	}
	if c := b.Carried(); len(c) != 1 || c[0].At != march1 || c[0].ID != "1/3-h" || c[0].Deferred.Until != "2026-07-15" {
		t.Errorf("a fourth job takes in %+v", c)
	}
}

func TestADeferralRunsOutByDate(t *testing.T) {
	h := newHangar(t)
	v := h.begin(march1, 0)
	v.postpone(v.find("A1.1", "fluffy"), job.Deferral{Until: "2026-05-15"}, "no part")
	v.release()
	for _, c := range []struct {
		today string
		want  Reach
	}{{"2026-04-14", Later}, {"2026-04-15", Near}, {"2026-05-15", Near}, {"2026-05-16", Past}} {
		b := h.book(c.today)
		if got := one(t, b.Deferred).RunOut; got != c.want {
			t.Errorf("on %s it is %s, want %s", c.today, got, c.want)
		}
		if due := len(b.Due) == 1; due != (c.want != Later) {
			t.Errorf("on %s due: %+v", c.today, b.Due)
		}
		if b.Status.Tagged != (c.want == Past) {
			t.Errorf("on %s tagged: %v", c.today, b.Status.Why)
		}
	}
}

func TestADeferralRunsOutByHours(t *testing.T) {
	h := newHangar(t)
	v := h.begin(march1, 1000)
	v.postpone(v.find("A1.1", "fluffy"), job.Deferral{Hours: 200}, "no part")
	for _, c := range []struct {
		hours job.Hours
		want  Reach
	}{{1149, Later}, {1150, Near}, {1199, Near}, {1200, Past}} {
		b := Bind("cloth", h.pages(), "2026-04-01", &c.hours)
		if got := one(t, b.Deferred).RunOut; got != c.want {
			t.Errorf("at %s it is %s, want %s", c.hours, got, c.want)
		}
	}
	b := h.book("2026-04-01")
	if got := one(t, b.Deferred).RunOut; got != Unknown || len(b.Due) != 1 {
		t.Errorf("with hours that nobody said it is %s, due %+v", got, b.Due)
	}
	if !strings.Contains(b.Due[0].Text, "it had 100 h in job 1") {
		t.Errorf("it does not say what is known: %s", b.Due[0].Text)
	}
	h.begin(may1, 1205)
	if got := one(t, h.book("2026-06-01").Deferred).RunOut; got != Past {
		t.Errorf("a later job knew more hours than the limit: %s", got)
	}
}

// No such limit is taken any more; older journals have it.
func TestADeferralOfUnknownHoursIsNeverOverlooked(t *testing.T) {
	h := newHangar(t)
	v := h.begin(march1, 0)
	e, err := job.Decide(v.Job, v.stamp(), job.Entry{Kind: job.EnterDefer, Finding: v.find("A1.1", "fluffy"), Deferral: &job.Deferral{Until: "2027-03-01"}, Text: "no part"})
	if err != nil {
		t.Fatal(err)
	}
	e.Deferral = &job.Deferral{Hours: 200}
	v.apply(e)
	hours := job.Hours(5000)
	b := Bind("cloth", h.pages(), "2026-04-01", &hours)
	if len(b.Due) != 1 || b.Due[0].Reach != Unknown || !strings.Contains(b.Due[0].Text, "hours were not known then") {
		t.Errorf("due: %+v", b.Due)
	}
}

func TestStruckAndMendedFindingsAreOver(t *testing.T) {
	h := newHangar(t)
	v := h.begin(march1, 0)
	id := v.find("A1.1", "cut")
	f, _ := v.Finding(id)
	v.must(job.Entry{Kind: job.EnterStrike, Line: f.Line, Text: "the wrong line"})
	mended := v.find("A1.2", "cut")
	open := v.find("A2.1", "stretched")
	v.now = april1
	v.swap("A1.2")
	b := h.book("2026-05-01")
	if len(b.Over) != 2 {
		t.Fatalf("%d are over, want 2", len(b.Over))
	}
	if e := b.Over[0]; e.ID != id || e.State != job.StateStruck || e.Why != "the wrong line" {
		t.Errorf("struck: %+v", e)
	}
	if e := b.Over[1]; e.ID != mended || e.State != job.StateMended || e.Mended != 4 || e.Job != 1 || e.Said.At != april1 {
		t.Errorf("mended: %+v", e)
	}
	if e := one(t, b.Open); e.ID != open {
		t.Errorf("open: %+v", e)
	}
	if c := b.Carried(); len(c) != 1 || c[0].ID != open {
		t.Errorf("carried: %+v", c)
	}
}

func TestALaterJobClears(t *testing.T) {
	h := newHangar(t)
	first := h.begin(march1, 0)
	id := first.find("A1.1", "fluffy")
	first.postpone(id, job.Deferral{Until: "2026-12-01"}, "no part")
	first.close()
	second := h.begin(april1, 0)
	second.clear(id)
	second.close()
	b := h.book("2026-05-01")
	if e := one(t, b.Over); e.State != job.StateCleared || e.Job != 2 || e.At != march1 || e.Way != job.ByLooking {
		t.Errorf("cleared: %+v", e)
	}
	if third := h.begin(may1, 0); len(third.Findings()) != 0 {
		t.Errorf("a third job takes in %+v", third.Findings())
	}
}

// Two jobs are open at once: each knows what it took in, and what it did.
func TestTwoJobsOpenAtOnce(t *testing.T) {
	h := newHangar(t)
	first := h.begin(march1, 0)
	id := first.find("A1.1", "cut")
	second := h.begin(april1, 0)
	second.now = may1
	second.swap("A1.1")
	b := h.book("2026-05-02")
	if e := one(t, b.Over); e.State != job.StateMended || e.Job != 2 || e.ID != id {
		t.Errorf("mended in the second: %+v", e)
	}
	other := second.find("A1.2", "fluffy")
	first.now = june1
	if e := one(t, h.book("2026-06-02").Open); e.ID != other {
		t.Errorf("found in the second, not known to the first: %+v", e)
	}
	second.postpone(other, job.Deferral{Until: "2026-12-01"}, "no part")
	third := h.begin(june1, 0)
	third.clear(other)
	second.now = "2026-06-02T10:00:00Z"
	second.postpone(other, job.Deferral{Until: "2027-01-01"}, "the other job is not known here")
	if e := one(t, h.book("2026-06-03").Deferred); e.Job != 2 || e.Deferred.Until != "2027-01-01" {
		t.Errorf("the later word counts: %+v", e)
	}
}

// A clock that was wrong in the first job does not bring a finding back that a
// later job ended.
func TestAWrongClockDoesNotBringAFindingBack(t *testing.T) {
	h := newHangar(t)
	first := h.begin("2031-01-01T10:00:00Z", 0)
	id := first.find("A1.1", "fluffy")
	second := h.begin(march1, 0)
	second.clear(id)
	b := h.book("2026-03-02")
	if e := one(t, b.Over); e.State != job.StateCleared || e.Job != 2 {
		t.Errorf("%+v", e)
	}
	if len(b.Open) != 0 {
		t.Errorf("it is open again: %+v", b.Open)
	}
}

// A job that came from another store can have the number of one of ours.
func TestFindingsOfTwoJobsWithOneNumberStayTwo(t *testing.T) {
	h, elsewhere := newHangar(t), newHangar(t)
	h.begin(march1, 0).find("A1.1", "fluffy")
	elsewhere.begin(april1, 0).find("A1.2", "fluffy")
	foreign := PageOf(elsewhere.jobs[0].Job)
	foreign.Job = 2
	b := Bind("cloth", append(h.pages(), foreign), "2026-05-01", nil)
	if len(b.Open) != 2 || b.Open[0].Thing.Code != "A1.1" || b.Open[1].Thing.Code != "A1.2" || b.Open[1].Job != 2 {
		t.Errorf("open: %+v", b.Open)
	}
}
