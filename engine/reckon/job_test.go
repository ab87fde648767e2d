package reckon_test

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/reckon"
	"example.org/linewright/engine/wing"
)

// pins holds files by their SHA-256, as a job's folder does.
type pins map[string][]byte

func (p pins) Pinned(sha string) ([]byte, error) {
	if data, ok := p[sha]; ok {
		return data, nil
	}
	return nil, errors.New("not pinned")
}

func (p pins) pin(t testing.TB, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256(data)
	sha := hex.EncodeToString(sum[:])
	p[sha] = data
	return sha
}

// sitting drives a job on the sample wing, C1.2 on the left, up to the step
// that measures the new line loose.
type sitting struct {
	t   testing.TB
	job *job.Job
	n   int
}

func newSitting(t testing.TB, bench metrology.Bench) *sitting {
	t.Helper()
	files := pins{}
	s := &sitting{t: t, job: job.New(files)}
	plan := files.pin(t, "../../procedures/sample/plan.toml")
	s.apply(job.Begin(s.stamp(), job.Start{Job: 1, WingID: "cloth", WingName: "Cloth", Plan: plan, Bench: bench}))
	add := &job.Add{Procedure: "bench-test", Edition: "1", SHA256: files.pin(t, "../job/testdata/bench.toml"), Target: wing.LineRef("C1.2", wing.Left)}
	s.enter(job.Entry{Kind: job.EnterAdd, Add: add})
	for _, text := range []string{"1", "C", "2", "0", "1", "C1.2"} {
		s.answer(text)
	}
	return s
}

func (s *sitting) stamp() job.Stamp {
	return job.Stamp{At: "2026-03-01T10:00:00Z", Who: "ann", Key: "SHA256:ann", Sitting: 1, HeadN: s.n, Head: "h"}
}

// apply sends an event through JSON, as the journal does.
func (s *sitting) apply(e job.Event) {
	s.t.Helper()
	data, err := json.Marshal(e)
	if err != nil {
		s.t.Fatal(err)
	}
	var back job.Event
	if err := json.Unmarshal(data, &back); err != nil {
		s.t.Fatal(err)
	}
	if err := s.job.Apply(back); err != nil {
		s.t.Fatal(err)
	}
	s.n++
}

func (s *sitting) enter(e job.Entry) job.Event {
	s.t.Helper()
	event, err := job.Decide(s.job, s.stamp(), e)
	if err != nil {
		s.t.Fatalf("%+v: %v", e, err)
	}
	s.apply(event)
	return event
}

func (s *sitting) due() string {
	s.t.Helper()
	card, err := s.job.Card(1, 1)
	if err != nil {
		s.t.Fatal(err)
	}
	return card.Fields[card.At].Key
}

func (s *sitting) answer(text string) job.Event {
	s.t.Helper()
	return s.enter(job.Entry{Kind: job.EnterAnswer, Task: 1, Key: s.due(), Text: text})
}

// The same readings on the same bench give the same measurement and verdict in
// a job and in a bench sum, whatever the verdict is.
func TestJobAndSumJudgeAlike(t *testing.T) {
	plan := samplePlan(t)
	met := map[metrology.Verdict]bool{}
	for _, bench := range []metrology.Bench{goodBench(t), badBench(t), described(t, "name", "barn"), metrology.DefaultBench()} {
		for _, readings := range [][]string{
			{"4205", "4206"}, {"4211 mm", "421.2 cm"}, {"4197.5", "4198"}, {"4222", "4222"}, {"4213", "4212.5"}, {"4201", "4203"},
		} {
			s := newSitting(t, bench)
			for _, text := range readings {
				if e := s.answer(text); e.Kind != job.Read || e.Outcome != job.Taken {
					t.Fatalf("%s %v: %+v", bench.Name, readings, e)
				}
			}
			card, err := s.job.Card(1, 1)
			if err != nil {
				t.Fatal(err)
			}
			key := card.Fields[card.At].Key
			if _, err := job.Decide(s.job, s.stamp(), job.Entry{Kind: job.EnterOn, Task: 1, Key: key}); err != nil {
				if _, refused := find(t, "length").Do(reckon.Values{"reading": readings, "line": {"C1.2@left"}}, reckon.Env{Bench: bench, Plan: plan}); refused == nil {
					t.Errorf("%s %v: the job refuses (%v), the sum does not", bench.Name, readings, err)
				}
				met["refused"] = true
				continue
			}
			e := s.enter(job.Entry{Kind: job.EnterOn, Task: 1, Key: key})
			r, err := find(t, "length").Do(reckon.Values{"reading": readings, "line": {"C1.2@left"}}, reckon.Env{Bench: bench, Plan: plan})
			if err != nil {
				t.Errorf("%s %v: the sum refuses (%v), the job does not", bench.Name, readings, err)
				continue
			}
			if e.Judgement != nil {
				met[e.Judgement.Verdict] = true
			}
			if e.Judgement == nil || r.Rows[0].Text != e.Judgement.Words() || r.Answer != (e.Judgement.Verdict == metrology.Inside) {
				t.Errorf("%s %v: the job says %+v, the sum %q", bench.Name, readings, e.Judgement, r.Rows[0].Text)
			}
			if diff := cmp.Diff(ofJob(e), ofSum(t, r)); diff != "" {
				t.Errorf("%s %v (-job +sum)\n%s", bench.Name, readings, diff)
			}
		}
	}
	if len(met) != 4 {
		t.Errorf("not every case was met: %v", met)
	}
}

// judged is what both have to agree on.
type judged struct {
	Verdict     metrology.Verdict `json:"verdict"`
	DeviationMM float64           `json:"deviation_mm"`
	UMM         float64           `json:"expanded_uncertainty_mm"`
	LimitMM     float64           `json:"limit_mm"`
	Probability float64           `json:"probability_inside"`
	Measurement struct {
		LengthMM   float64                `json:"length_mm"`
		StandardMM float64                `json:"standard_uncertainty_mm"`
		Terms      []metrology.Term       `json:"terms"`
		Made       []metrology.Correction `json:"corrections"`
		Rule       string                 `json:"rule"`
	} `json:"measurement"`
	Rule string `json:"decision_rule"`
}

func ofJob(e job.Event) judged {
	j := judged{
		Verdict: e.Judgement.Verdict, DeviationMM: e.Judgement.Deviation.MM(), UMM: e.Judgement.U.MM(), LimitMM: e.Judgement.Limit.MM(),
		Probability: e.Judgement.Probability, Rule: e.Judgement.Rule,
	}
	m := e.Measurement
	j.Measurement.LengthMM, j.Measurement.StandardMM, j.Measurement.Terms, j.Measurement.Rule = m.Value.MM(), m.StandardMM, m.Terms, m.Rule
	j.Measurement.Made = append([]metrology.Correction{}, m.Corrections...)
	return j
}

func ofSum(t testing.TB, r reckon.Result) judged {
	t.Helper()
	data, err := json.Marshal(r.JSON)
	if err != nil {
		t.Fatal(err)
	}
	var j judged
	if err := json.Unmarshal(data, &j); err != nil {
		t.Fatal(err)
	}
	return j
}
