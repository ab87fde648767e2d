package session

import (
	"errors"
	"os"
	"testing"
	"time"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/store"
	"example.org/linewright/engine/wing"
)

const measuring = `
linewright_procedure = 1
id = "measuring"
edition = "1"
title.en = "Measuring"
target = "line"
[[phase]]
id = "work"
title.en = "Work"
[[phase.card]]
id = "measure"
action.en = "MEASURE THE LINE"
reason.en = "Its length counts."
[[phase.card.step]]
id = "loose"
kind = "measure"
quantity = "length"
state = "loose"
ask.en = "New line"
expect = "line.length_mm"
source = "{plan.source}"
limit = "limits.line_mm"
limit_source = "{limits.line_source}"
`

// measuringSession starts a job on the sample wing with one measure step due.
func measuringSession(t *testing.T) *Session {
	t.Helper()
	folder, err := store.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	plan, err := os.ReadFile("../../procedures/sample/plan.toml")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := folder.AddWing(store.Wing{ID: "cloth", Name: "Cloth"}, plan); err != nil {
		t.Fatal(err)
	}
	desk := Desk{
		Store: folder, Who: "ann", Clock: func() time.Time { return time.Date(2026, 3, 1, 10, 0, 0, 0, time.UTC) },
		Procedures: []procedure.File{{Name: "measuring.toml", Data: []byte(measuring)}},
	}
	s, err := desk.Start(New{Wing: "cloth", Bench: metrology.DefaultBench()})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := errors.Join(s.Close(), folder.Close()); err != nil {
			t.Error(err)
		}
	})
	if _, err := s.AddTask("measuring", wing.LineRef("C1.2", wing.Left), ""); err != nil {
		t.Fatal(err)
	}
	return s
}

func TestForeseeJudgesAndWritesNothing(t *testing.T) {
	s := measuringSession(t)
	line, _ := s.Job().Plan.Line("C1.2")
	if _, err := s.Enter(job.Entry{Kind: job.EnterAnswer, Task: 1, Text: (line.Length + 2000).String()}); err != nil {
		t.Fatal(err)
	}
	before := s.Job().Lines
	e, err := s.Foresee(job.Entry{Kind: job.EnterOn, Task: 1})
	if err != nil {
		t.Fatal(err)
	}
	if e.Kind != job.Settled || e.Judgement == nil || e.Judgement.Verdict != metrology.Inside {
		t.Errorf("foreseen %+v, want a settled verdict, inside", e)
	}
	if s.Job().Lines != before || s.Job().Tasks[0].At("loose").Judgement != nil {
		t.Error("looking ahead changed the job")
	}
	written, err := s.Enter(job.Entry{Kind: job.EnterOn, Task: 1})
	if err != nil {
		t.Fatal(err)
	}
	if *written.Judgement != *e.Judgement {
		t.Errorf("written %+v, foreseen %+v", *written.Judgement, *e.Judgement)
	}
}
