package job

import (
	"fmt"
	"strings"
	"testing"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

// trimRig is a rig on the small plan, with a measuring of the whole wing as its
// first task.
type trimRig struct {
	*rig
	shas map[string]string
}

func newTrimRig(t testing.TB) *trimRig {
	return newTrimRigWith(t, Start{Bench: *bench("I", metrology.PullWeight, 1, 500)})
}

func newTrimRigWith(t testing.TB, s Start) *trimRig {
	t.Helper()
	return newTrimRigOn(t, read(t, "../trim/testdata/small.toml"), s)
}

func newTrimRigOn(t testing.TB, plan []byte, s Start) *trimRig {
	t.Helper()
	r := &trimRig{rig: &rig{t: t, pins: memory{}, sitting: 1, who: "ann"}, shas: map[string]string{}}
	r.job = New(r.pins)
	s.Job, s.WingID, s.WingName, s.Plan = 7, "napkin", "Napkin", r.pins.pin(plan)
	r.apply(Begin(r.stamp(), s))
	for id, file := range map[string]string{"trim-test": "trim", "after-test": "after", "loop-change": "loop"} {
		r.shas[id] = r.pins.pin(read(t, "testdata/"+file+".toml"))
	}
	r.begin("trim-test", wing.Whole())
	return r
}

// begin adds a task and gives its number.
func (r *trimRig) begin(id string, target wing.Ref) int {
	r.t.Helper()
	r.must(Entry{Kind: EnterAdd, Add: &Add{Procedure: id, Edition: "1", SHA256: r.shas[id], Target: target}})
	return len(r.job.Tasks)
}

// work does all of a loop change on a line.
func (r *trimRig) work(line wing.Ref) int {
	r.t.Helper()
	no := r.begin("loop-change", line)
	r.types("", "", "")
	return no
}

// types enters readings, and an empty text as a bare Enter, in the newest task.
func (r *trimRig) types(texts ...string) {
	r.t.Helper()
	for _, text := range texts {
		r.must(r.typing(text))
	}
}

// typing is one entry in the newest task.
func (r *trimRig) typing(text string) Entry {
	en := Entry{Kind: EnterAnswer, Task: len(r.job.Tasks), Text: text}
	if text == "" {
		en.Kind = EnterOn
	}
	return en
}

// try enters a text that may be refused.
func (r *trimRig) try(text string) (Event, error) {
	r.t.Helper()
	return r.enter(r.typing(text))
}

// upTo answers the newest task until a step is due or a hold: each path as it
// should read but for those in off, in mm, read again where that is asked for;
// a choice as it is given, else the first.
func (r *trimRig) upTo(key string, off map[string]int, given ...map[string]string) {
	r.t.Helper()
	for r.due() != key && r.due() != "" {
		task := r.job.Tasks[len(r.job.Tasks)-1]
		slot, _ := task.Unfolded.Slot(r.due())
		switch slot.Step.Kind {
		case procedure.Lengths:
			r.row(off)
		case procedure.Loops:
			r.types(plainLoop)
		case procedure.Choose, procedure.Check:
			r.types(choiceOf(slot.Key, given))
		case procedure.Sign:
			return
		default:
			r.types("")
		}
	}
}

func choiceOf(key string, given []map[string]string) string {
	for _, g := range given {
		if id := g[key]; id != "" {
			return id
		}
	}
	return "1"
}

// row reads all that is due in the step, and closes it.
func (r *trimRig) row(off map[string]int) {
	r.t.Helper()
	for {
		v := r.view()
		if v.Due == nil {
			break
		}
		r.types(r.reads(*v.Due, off[v.Due.String()]))
	}
	r.types("")
}

// reads is what a path would read, so many mm off, on this bench.
func (r *trimRig) reads(ref trim.PathRef, off int) string {
	r.t.Helper()
	want, ok := trim.Expect(r.job.Plan, ref, wing.FromLink)
	if !ok {
		r.t.Fatalf("nothing is expected of %s", ref)
	}
	return fmt.Sprint(int(want.Length/quantity.Millimetre) + off)
}

// view is the view of the step that is due.
func (r *trimRig) view() *LengthsView {
	r.t.Helper()
	f := r.field()
	if f.Lengths == nil {
		r.t.Fatalf("%s is no lengths step", f.Key)
	}
	return f.Lengths
}

// field is the field that is due in the newest task.
func (r *trimRig) field() Field {
	r.t.Helper()
	c, err := r.job.Card(len(r.job.Tasks), r.sitting)
	if err != nil {
		r.t.Fatal(err)
	}
	return c.Fields[c.At]
}

// cell finds a path in a view.
func (v *LengthsView) cell(name string) *LengthsCell {
	for _, row := range v.Rows {
		for _, c := range []*LengthsCell{row.Left, row.Right} {
			if c != nil && c.String() == name {
				return c
			}
		}
	}
	return nil
}

// ref reads "C1 left".
func ref(name string) trim.PathRef {
	point, side, _ := strings.Cut(name, " ")
	return trim.PathRef{Point: point, Side: wing.Side(side)}
}

// length gives the length of a path that counts in the job.
func (r *trimRig) length(name string) PathLength {
	l, _ := r.job.PathLength(ref(name).Point, ref(name).Side)
	return l
}

// sheetOf gives a sheet of whole rows as it should read, but for off.
func (r *trimRig) sheetOf(off map[string]int, rows ...string) []PathRead {
	var out []PathRead
	for _, row := range rows {
		for _, ref := range trim.Refs(r.job.Plan, row) {
			out = append(out, PathRead{PathRef: ref, Typed: r.reads(ref, off[ref.String()])})
		}
	}
	return out
}
