package prompt

import (
	"context"
	"errors"
	"io"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/session"
	"example.org/linewright/engine/store"
	"example.org/linewright/engine/wing"
	"example.org/linewright/procedures"
)

// hand answers whatever step is due as somebody would who finds the work done
// right: what is seen comes from the plan. The special answers come first.
type hand struct {
	t       *testing.T
	s       *session.Session
	special map[string]string // by step key, without task; options by their id
	stopAt  string            // the input ends at this step
}

func (h *hand) Read(p []byte) (int, error) {
	card, err := h.s.Card(1)
	if err != nil {
		h.t.Fatal(err)
	}
	if h.s.Job().Closed != nil || !card.Over && card.Key == h.stopAt {
		return 0, io.EOF
	}
	text := ":close Done.\nyes"
	switch {
	case card.Over:
	case card.Confirm != nil:
		text = ""
	case wantsLooker(card):
		text = "bea"
	default:
		text = h.answer(card.Fields[card.At])
	}
	return copy(p, text+"\n"), nil
}

func (h *hand) answer(f job.Field) string {
	task, _ := h.s.Job().Task(1)
	slot, _ := task.Unfolded.Slot(f.Key)
	base, _, _ := strings.Cut(f.Key, "@")
	special, has := h.special[f.Key]
	if !has {
		special, has = h.special[base]
	}
	step := slot.Step
	switch {
	case f.Kind == procedure.Sign && f.Role == procedure.Second:
		return "bea"
	case f.Kind == procedure.Sign:
		return "ann"
	case len(step.Options) > 0:
		return option(slot, task, special, h.seen(slot))
	case f.Kind == procedure.Measure:
		return h.reading(f, special)
	case has:
		return special
	case step.Observes != "":
		return h.seen(slot)
	case f.Kind == procedure.Code:
		return task.Add.Target.Code
	case f.Kind == procedure.Order:
		return h.order(task.Add.Target)
	case f.Kind == procedure.Note || f.Kind == procedure.Photo || f.Kind == procedure.Do:
		return ""
	}
	h.t.Fatalf("no answer is known for %s", f.Key)
	return ""
}

func (h *hand) seen(slot *procedure.Slot) string {
	task, _ := h.s.Job().Task(1)
	text, _ := h.s.Job().Plan.Feature(task.Add.Target, wing.Feature(slot.Step.Observes), slot.Step.ObservesAt)
	if text == wing.None {
		return "0"
	}
	return text
}

// option gives the number of the wanted option, with words where it needs a
// reason, else of the first that is right and stops nothing.
func option(slot *procedure.Slot, task *job.Task, ids ...string) string {
	offered := slot.Offered(task)
	at := slices.IndexFunc(offered, func(o *procedure.Option) bool { return slices.Contains(ids, o.ID) })
	if at < 0 {
		at = slices.IndexFunc(offered, func(o *procedure.Option) bool {
			return o.Stop.Empty() && (o.Right || slot.Step.Kind == procedure.Choose)
		})
	}
	number := strconv.Itoa(at + 1)
	if at >= 0 && offered[at].Reason {
		return number + " as was agreed"
	}
	return number
}

// reading gives readings until there are enough, then an empty line.
func (h *hand) reading(f job.Field, special string) string {
	if len(f.Scale.Readings) >= f.Scale.Need {
		return ""
	}
	if special != "" {
		return special
	}
	if f.Scale.HasValue {
		return f.Scale.Expected.String()
	}
	task, _ := h.s.Job().Task(1)
	line, ok := h.s.Job().Plan.LineAt(task.Add.Target)
	if !ok {
		h.t.Fatalf("no reading is known for %s", f.Key)
	}
	return line.Length.String()
}

func (h *hand) order(target wing.Ref) string {
	plan := h.s.Job().Plan
	name := target.Code
	if link, ok := plan.LinkOf(target.Code); ok && target.Kind == wing.KindLine {
		name = link.Name
	}
	var codes []string
	for _, l := range plan.OnLink(name) {
		codes = append(codes, l.Code)
	}
	return strings.Join(codes, " ")
}

// swapped are the answers of a swap that plan and target do not give.
func swapped(lines string) map[string]string {
	return map[string]string{
		"opening.turns_open": "5", "closure.turns_closed": "5", "closure.second_free": lines,
		"turns_closed": "5", "second_free": lines,
	}
}

// pulleys lower both pulleys of the sample wing by one place, 135 mm.
var pulleys = map[string]string{
	"place_new": "second", "place_found": "first", "tail_found": "300", "play_known": "not_known",
	"distance_left": "135", "distance_right": "136", "spare_state": "enough", "mark_lies": "between", "knot_moved": "135",
	"tail_after": "165", "brake_length_left": "2400", "brake_length_right": "2401", "second_places": "second", "play_how": "not_done",
}

// turned shortens a line by one turn on its link, as on the other side.
var turned = map[string]string{
	"why": "report", "loop_here": "plain", "loop_there": "wrapped", "way": "shorter", "loop_wanted": "wrapped", "shift": "10",
	"shift_from": "fallback", "pair_plan": "same", "opening.turns_open": "5", "closure.turns_closed": "5", "closure.second_free": "3",
	"closure.changed_alike": "4196", "closure.loop_took": "as_said", "closure.second_loop": "wrapped", "there_same": "4195", "there_again": "4196",
}

// fittings renew pulley and handle on the left.
var fittings = map[string]string{
	"renew": "both", "sides": "left", "height_found": "420", "height_new": "421", "tail_found": "300", "play_known": "measured", "play_found": "120",
	"knot_off": "1", "tail_after": "299", "brake_length_left": "700", "brake_length_right": "701",
	"second_form": "bowline", "play_how": "all", "play_closed": "120", "play_open": "110", "play_speed": "105",
}

// retainers renew a clip with the gate open.
var retainers = map[string]string{
	"pattern": "clip", "part_kind": "clip", "way_taken": "open", "opening.turns_open": "5", "closure.turns_closed": "5", "closure.second_free": "3",
}

func realJob(t *testing.T, id string, target wing.Ref) (session.Desk, *session.Session, error) {
	t.Helper()
	return realJobOn(t, "cloth", id, target)
}

func realJobOn(t *testing.T, name, id string, target wing.Ref) (session.Desk, *session.Session, error) {
	t.Helper()
	d := bench(t)
	d.Procedures = procedures.Files()
	_, err := d.Store.AddWing(store.Wing{ID: "soft", Name: "Soft"}, read(t, "../../procedures/testdata/soft.toml"))
	check(t, err)
	s, err := d.Start(session.New{Wing: name, Bench: simpleBench()})
	check(t, err)
	t.Cleanup(func() { _ = s.Close() })
	_, err = s.AddTask(id, target, "")
	return d, s, err
}

func walkReal(t *testing.T, d session.Desk, s *session.Session, special map[string]string, stopAt string) (string, error) {
	t.Helper()
	var out strings.Builder
	in := NewInput(&hand{t: t, s: s, special: special, stopAt: stopAt})
	err := Walk(context.Background(), in, &out, s, Options{Desk: d})
	return out.String(), err
}

func TestTheShippedProceduresInLineMode(t *testing.T) {
	for _, c := range []struct {
		name, id string
		target   wing.Ref
		special  map[string]string
	}{
		{"a loop", "loop-change", wing.LineRef("C1.2", wing.Left), turned},
		{"a pulley and a handle", "brake-fittings", wing.Brakes(), fittings},
		{"a retainer", "retainer-renewal", wing.LinkRef("C", wing.Right), retainers},
		{"a lower line", "line-swap", wing.LineRef("C1.2", wing.Left), swapped("3")},
		{"a lower line of the right side", "line-swap", wing.LineRef("A1.1", wing.Right), swapped("3")},
		{"a middle line", "line-swap", wing.LineRef("C2.3", wing.Left), swapped("3")},
		{"an upper line", "line-swap", wing.LineRef("B3.12", wing.Right), swapped("4")},
		{"the stabilo", "line-swap", wing.LineRef("S1.1", wing.Left), swapped("4")},
		{"a code that differs in case only", "line-swap", wing.LineRef("s2.1", wing.Left), swapped("4")},
		{"a loose link", "link-reclosure", wing.LinkRef("C", wing.Left), swapped("3")},
		{"the pulleys", "pulley-relocation", wing.Brakes(), pulleys},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, s, err := realJob(t, c.id, c.target)
			check(t, err)
			text, err := walkReal(t, d, s, c.special, "")
			if err != nil || s.Job().Closed == nil {
				t.Fatalf("not done: %v\n%s", err, text)
			}
			if strings.Contains(text, "(not known)") {
				t.Errorf("a text has a gap:\n%s", text)
			}
		})
	}
}

func TestASoftLinkInLineMode(t *testing.T) {
	for state, special := range map[string]map[string]string{
		"worn":    {"cord_seen": "fuzzed", "spare": "same", "new_mm": "82", "old_can": "whole", "old_mm": "81"},
		"sound":   {"cord_seen": "sound", "cord_open": "sound"},
		"slipped": {"how_found": "slipped", "cord_seen": "sound", "cord_open": "glazed", "new_mm": "82", "old_can": "not"},
	} {
		t.Run(state, func(t *testing.T) {
			d, s, err := realJobOn(t, "soft", "soft-link", wing.LinkRef("A", wing.Left))
			check(t, err)
			for _, key := range []string{"passes_before", "passes_after", "second_passes"} {
				special[key] = "2"
			}
			for _, key := range []string{"riser_before", "riser_after", "second_riser"} {
				special[key] = "1"
			}
			special["second_free"], special["part_label"] = "3", "size 2"
			text, err := walkReal(t, d, s, special, "")
			if err != nil || s.Job().Closed == nil {
				t.Fatalf("not done: %v\n%s", err, text)
			}
			if strings.Contains(text, "(not known)") {
				t.Errorf("a text has a gap:\n%s", text)
			}
		})
	}
}

func TestWhatCannotBeSwappedIsRefusedWithWhatToDo(t *testing.T) {
	for code, want := range map[string]string{"Br1.1": "brake main line", "Br2.1": "above the brake handle"} {
		_, _, err := realJob(t, "line-swap", wing.LineRef(code, wing.Left))
		var bar *procedure.BarError
		if !errors.As(err, &bar) || !strings.Contains(bar.What, want) || bar.Instead == "" {
			t.Errorf("%s: %v, want it barred for %q and what to do instead", code, err, want)
		}
	}
}

func TestOneBrakeMovedIsSaidOnLeaving(t *testing.T) {
	d, s, err := realJob(t, "pulley-relocation", wing.Brakes())
	check(t, err)
	text, err := walkReal(t, d, s, pulleys, "pulley_moved@right")
	var ended *Ended
	if !errors.As(err, &ended) {
		t.Fatalf("ended with %v\n%s", err, text)
	}
	text, err = feed(t, d, s, Options{}, ":quit")
	check(t, err)
	mustSay(t, text, "ONE BRAKE IS MOVED, THE OTHER IS NOT (task 1).")
}
