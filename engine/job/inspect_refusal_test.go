package job

import "testing"

// surveyingAt runs an attempt where a step of the survey is due.
func surveyingAt(key string, do func(*surveyRig) (Event, error)) func(*rig) (Event, error) {
	return func(r *rig) (Event, error) {
		w := surveyed(r.t)
		w.pass(key)
		return do(w)
	}
}

// foundAt enters findings on lines of row A left, by their rules; the last may
// be refused.
func foundAt(entries ...[3]string) func(*rig) (Event, error) {
	return surveyingAt("row@A.left", func(w *surveyRig) (Event, error) {
		for _, f := range entries[:len(entries)-1] {
			w.must(w.seen(f[0], f[1], f[2]))
		}
		f := entries[len(entries)-1]
		return w.enter(w.seen(f[0], f[1], f[2]))
	})
}

// endAt finds something on A1.1 left and enters what becomes of it.
func endAt(rule string, entries ...Entry) func(*rig) (Event, error) {
	return surveyingAt("row@A.left", func(w *surveyRig) (Event, error) {
		id := w.find("line:A1.1@left", rule).ID
		for i := range entries {
			if entries[i].Finding == "" {
				entries[i].Finding = id
			}
		}
		for _, en := range entries[:len(entries)-1] {
			w.must(en)
		}
		return w.enter(entries[len(entries)-1])
	})
}

func deferring(hours Hours, until string) Entry {
	return Entry{Kind: EnterDefer, Deferral: &Deferral{Hours: hours, Until: until}, Text: "smooth under the fingers"}
}

func clearing(way Way) Entry {
	return Entry{Kind: EnterClear, Way: way, Text: "paper 12"}
}

func init() {
	attempts = append(attempts, []attempt{
		{"row@A.left", surveyingAt("row@A.left", func(w *surveyRig) (Event, error) { return w.try("a1.1") }), "a1.1", TouchFirst},
		{"row@A.left", foundAt([3]string{"line:B1.1@left", "cut", ""}), "a cut on B1.1 in row A", NotLookedAt},
		{"row@A.left", foundAt([3]string{"line:A1.1@left", "bent", ""}), "a line that is bent like a link", RuleUnknown},
		{"row@A.left", foundAt([3]string{"line:A1.1@left", "cut", "low down"}), "a cut low down", BadValue},
		{"row@A.left", foundAt([3]string{"line:A1.1@left", "cut", "9 m"}), "a cut 9 m up a line of 5 m", PlaceBeyond},
		{"row@A.left", foundAt([3]string{"line:A1.1@left", "cut", "3000"}, [3]string{"line:A1.1@left", "1", "3 m"}), "the same cut again", FoundAlready},
		{"row@A.left", surveyingAt("row@A.left", func(w *surveyRig) (Event, error) {
			return w.enter(Entry{Kind: EnterFinding, Task: 1})
		}), "a finding on nothing", ValueWanted},
		{"fittings@left", surveyingAt("fittings@left", func(w *surveyRig) (Event, error) {
			en := w.seen("line:A1.1@left", "cut", "")
			en.Key = "kin"
			return w.enter(en)
		}), "a finding in a step that is not due yet", NotYet},
		{"marks", surveyingAt("marks", func(w *surveyRig) (Event, error) { return w.enter(w.seen("line:A1.1@left", "cut", "")) }), "a cut where marks are counted", NoInspection},
		{"fittings@left", func(r *rig) (Event, error) {
			w := newSurveyRig(r.t)
			w.begin(ProcRelease, thing(r.t, "wing"))
			return w.enter(w.seen("riser:A@left", "fluff", ""))
		}, "a finding before the second person gave a name", LookerFirst},

		{"row@A.left", endAt("scuffed", Entry{Kind: EnterDefer, Finding: "7/99"}), "carry over what is no finding", NoFinding},
		{"row@A.left", endAt("cut", deferring(100, "")), "carry a cut over", GroundsStill},
		{"row@A.left", endAt("scuffed", deferring(0, "")), "carry over without a limit", LimitMissing},
		{"row@A.left", endAt("scuffed", deferring(100, "2027-03-01")), "carry over with two limits", LimitMissing},
		{"row@A.left", endAt("scuffed", deferring(100, "")), "carry over for hours on a wing whose hours are not known", HoursUnknown},
		{"row@A.left", endAt("scuffed", deferring(0, "2027-02-29")), "carry over until 2027-02-29", DateUnknown},
		{"row@A.left", endAt("scuffed", deferring(0, "2026-03-01")), "carry over until today", DatePast},
		{"row@A.left", endAt("scuffed", Entry{Kind: EnterDefer, Deferral: &Deferral{Until: "2027-03-01"}}), "carry over without a reason", ReasonMissing},
		{"row@A.left", endAt("slid", clearing(ByLooking)), "a slid sheath, looked at again", LookingIsNot},
		{"row@A.left", endAt("slid", clearing(ByLength)), "a slid sheath measured, but not yet", LengthNotProved},
		{"row@A.left", endAt("scuffed", clearing("washed")), "washed", WayUnknown},
		{"row@A.left", endAt("cut", clearing(ByWorkshop), clearing(ByWorkshop)), "the same finding cleared twice", FindingOver},
		{"clear", func(r *rig) (Event, error) {
			w := surveyed(r.t)
			w.find("line:A1.1@left", "cut")
			w.pass("")
			w.begin(ProcRelease, thing(r.t, "wing"))
			w.pass("clear")
			return w.try("")
		}, "(Enter), with a cut line on the wing", NotClear},
	}...)
}

// What is refused is not written, and what was found before stands.
func TestARefusedFindingLeavesTheOthers(t *testing.T) {
	r := surveyed(t)
	f := r.find("line:A1.1@left", "cut")
	lines := r.job.Lines
	if _, err := r.enter(r.seen("line:A1.1@left", "cut", "")); code(err) != FoundAlready {
		t.Fatal(err)
	}
	if r.job.Lines != lines || len(r.job.Findings()) != 1 || r.job.Findings()[0] != f {
		t.Errorf("%d lines, findings %v", r.job.Lines-lines, r.job.Findings())
	}
	r.must(r.seen("line:A1.1@left", "cut", "1200"))
	if n := len(r.job.Findings()); n != 2 {
		t.Errorf("%d findings, want 2: the other is at another place", n)
	}
}
