package record

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/journal"
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
)

// The names of the files of a record.
const (
	NameJSON    = "record.json"
	NameText    = "record.txt"
	NameJournal = "journal.jsonl"
	NamePlan    = "plan.toml"
	NameAllowed = "allowed_signers"
	NameReadme  = "README.txt"
	NameSums    = "SHA256SUMS"

	dirProcedures = "procedures"
	dirPhotos     = "photos"
)

// Photos gives a photo of the job by the name that the journal has for it.
type Photos func(name string) ([]byte, error)

// Record is the record of a closed job.
type Record struct {
	Content Content
	JSON    []byte // record.json: what closing signatures are made over
	Text    []byte // record.txt

	parts  map[string][]byte // journal, plan and procedures by file name
	photos Photos
}

// Build makes the record of a closed job from its journal. It reads plan and
// procedures through pins, by their SHA-256. photos is asked by Export only,
// and may be nil where the journal names none. The error is NotClosed or
// another *Error.
func Build(lines []journal.Line, pins job.Pins, photos Photos) (Record, error) {
	done, err := replay(lines, pins, nil)
	if err != nil {
		return Record{}, err
	}
	r, err := assemble(done)
	r.photos = photos
	return r, err
}

// assemble makes the bytes of a record.
func assemble(done *replayed) (Record, error) {
	b := &builder{replayed: done, parts: map[string][]byte{NameJournal: journal.Join(done.lines)}}
	b.index()
	b.content()
	r := Record{Text: []byte(b.c.Text()), parts: b.parts}
	if err := b.files(r.Text); err != nil {
		return Record{}, err
	}
	var err error
	r.Content = b.c
	r.JSON, err = encode(b.c)
	return r, err
}

// builder gathers the content of a record.
type builder struct {
	*replayed
	c     Content
	parts map[string][]byte

	steps  map[string][]int // lines by "task/step"
	voids  map[string][]int // lines that voided a step
	struck map[int]string   // reason by the line that was withdrawn
}

// index makes one pass over the events, since a long journal has many steps.
func (b *builder) index() {
	b.steps, b.voids, b.struck = map[string][]int{}, map[string][]int{}, map[int]string{}
	for i, e := range b.events {
		if e.Key != "" {
			name := stepName(e.Task, e.Key)
			b.steps[name] = append(b.steps[name], i+1)
		}
		for _, name := range e.Voids {
			b.voids[name] = append(b.voids[name], i+1)
		}
		if e.Kind == job.Struck {
			b.struck[e.Line] = e.Reason
		}
	}
}

func (b *builder) content() {
	start, plan := b.job.Start, b.job.Plan
	last := b.lines[len(b.lines)-1]
	b.c = Content{
		Edition: Edition, Demo: start.Demo, Job: start.Job,
		Wing:   Wing{ID: start.WingID, Name: start.WingName, Serial: start.Serial, Reason: start.Reason},
		Begun:  b.stamp(1),
		Closed: Closing{b.stamp(last.N), b.job.Closed.Text},
		Plan: Plan{Name: plan.Name, Size: plan.Size, Source: plan.Source.Text, SourceDate: plan.Source.Date,
			Partial: plan.Partial, AsFound: plan.AsFound, SHA256: start.Plan},
		Bench: start.Bench, Rule: metrology.DecisionRule,
		Open: []OpenItem{}, Tasks: []Task{}, Parts: []Part{},
		Journal: JournalHead{last.N, last.Hash},
	}
	b.parts[NamePlan] = b.pins.bytes[start.Plan]
	for _, t := range b.job.Tasks {
		b.c.Tasks = append(b.c.Tasks, b.task(t))
	}
	b.whole()
	b.open()
	b.history()
	b.people()
}

// stamp gives time and writer of a line.
func (b *builder) stamp(line int) Stamp {
	e := b.events[line-1]
	return Stamp{line, e.At, e.Who}
}

// open lists what is open, what keeps the wing on the ground first. A value
// taken by decision stands with its step and is not said twice.
func (b *builder) open() {
	for _, i := range b.job.OpenItems() {
		if !i.Decided {
			b.c.Open = append(b.c.Open, OpenItem{i.Task, i.Key, i.Text, i.At, i.Grounds})
		}
	}
	b.openFindings()
	slices.SortStableFunc(b.c.Open, func(x, y OpenItem) int {
		if x.Grounds == y.Grounds {
			return 0
		}
		return map[bool]int{true: -1, false: 1}[x.Grounds]
	})
}

func (b *builder) task(t *job.Task) Task {
	all := t.Unfolded.Procedure.Parts()
	out := Task{
		No: t.No, Procedure: b.procedure(all[0]), Includes: []Procedure{}, Steps: []Step{},
		Target: t.Add.Target.Text(), TargetAs: t.Add.Target.String(),
		State: string(t.State()), Why: t.Reason, OneSide: t.OneSide(),
	}
	for _, p := range all[1:] {
		out.Includes = append(out.Includes, b.procedure(p))
	}
	for i, e := range b.events {
		if e.Kind == job.Added && e.Task == t.No {
			out.Begun, out.Reason = b.stamp(i+1), e.Reason
		}
	}
	out.Done, out.Of = t.Progress()
	for _, s := range t.Unfolded.Slots {
		if t.At(s.Key) != nil {
			out.Steps = append(out.Steps, b.step(t, s))
		}
	}
	return out
}

// procedure names a procedure and keeps its bytes for the export.
func (b *builder) procedure(p *procedure.Procedure) Procedure {
	b.parts[fmt.Sprintf("%s/%s-%s.toml", dirProcedures, p.ID, p.SHA256()[:12])] = b.pins.bytes[p.SHA256()]
	return Procedure{p.ID, p.Edition, p.Title.In("en"), p.Source, p.SHA256()}
}

var photoName = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^([0-9a-f]{64})\.(jpg|png|heic)$`) })

// files lists what a signature over record.json covers.
func (b *builder) files(text []byte) error {
	found := map[string]string{NameText: hashOf(text)}
	for name, data := range b.parts {
		found[name] = hashOf(data)
	}
	for i, e := range b.events {
		for _, photo := range e.Photos() {
			m := photoName().FindStringSubmatch(photo.Name)
			if m == nil || m[1] != photo.SHA256 {
				return &Error{What: fmt.Sprintf("line %d of the journal gives a photo the name %q", i+1, photo.Name),
					Do: "a photo is named by its SHA-256; take the job from a backup or another export"}
			}
			found[dirPhotos+"/"+photo.Name] = photo.SHA256
		}
	}
	for name, sha := range found {
		b.c.Files = append(b.c.Files, File{name, sha})
	}
	slices.SortFunc(b.c.Files, func(x, y File) int { return strings.Compare(x.Name, y.Name) })
	return nil
}
