package trim

import (
	"fmt"
	"math"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// Again is a path that has to be measured again, blind: without the first
// value before the eyes. A pair that is out names both its paths, since nobody
// knows yet which of them was misread.
type Again struct {
	PathRef
	Why []string `json:"why"`
}

// again lists what is out of its band or not proved, in the order of the plan.
func (k *reckoner) again() {
	why := make([][]string, len(k.paths))
	for i, t := range k.report.Paths {
		if k.paths[i].disagree {
			why[i] = append(why[i], "its readings lie too far apart")
		}
		switch t.Verdict {
		case metrology.Outside:
			why[i] = append(why[i], "outside against the plan")
		case metrology.NotProved:
			why[i] = append(why[i], "not proved against the plan: "+k.decides(i))
		}
	}
	verdicts := make(map[string]metrology.Verdict, len(k.report.Sides))
	for _, s := range k.report.Sides {
		verdicts[s.Point] = s.Verdict
	}
	for _, pair := range k.pairs {
		v := verdicts[k.paths[pair[0]].Point]
		if v == "" || v == metrology.Inside {
			continue
		}
		for _, i := range pair {
			why[i] = append(why[i], string(v)+" against the other side")
		}
	}
	for i, reasons := range why {
		if len(reasons) > 0 {
			k.report.Again = append(k.report.Again, Again{k.paths[i].PathRef, reasons})
		}
	}
}

// decides says what would bring a verdict.
func (k *reckoner) decides(i int) string {
	p, limit := &k.paths[i], um(k.report.Limits.Path.MM)
	if !hopeless(&p.m, p.deviation(), limit) {
		if n, ok := p.m.ReadingsToDecide(p.expected, limit); ok {
			return fmt.Sprintf("%s in all would decide", plural(n, "reading"))
		}
	}
	return "no number of readings decides, only a better bench"
}

// hopeless says whether a deviation stays open even if repeating cost nothing.
// It is the short way for the hundreds of paths of a wing on a poor bench:
// counting readings one by one takes a thousand times as long.
func hopeless(m *metrology.Measurement, deviation, limit quantity.Length) bool {
	variance := 0.0
	for i := range m.Terms {
		if m.Terms[i].Source != sourceRepeatability {
			variance += m.Terms[i].UMM * m.Terms[i].UMM
		}
	}
	least := quantity.Length(2 * math.Sqrt(variance) * 1000) // no factor is below 2
	return deviation.Abs() > limit-least && deviation.Abs() <= limit+least
}

// mostNamed is how many names of one kind a note lists.
const mostNamed = 8

// missing notes what was not measured or not stated.
func (k *reckoner) missing() {
	if k.set.Trimmers == "" {
		k.note("the trimmers' position is not stated: compare only with what was measured in the same")
	}
	if k.set.SpeedSystem == "" {
		k.note("the speed system's position is not stated: compare only with what was measured in the same")
	}
	if k.plan.Partial {
		k.note("only some lines are in the plan: offset, rows and index speak of these alone")
	}
	if len(k.absent) > 0 {
		k.note("not measured: " + list(k.absent, mostNamed))
	}
	if len(k.lacking) > 0 {
		k.note("the plan lacks a length on the path to " + list(k.lacking, mostNamed) + ": not judged")
	}
	if len(k.rows[rowSide{referenceRow, ""}]) == 0 {
		k.note("row A was not measured: the rows are not compared with it")
	}
	if k.set.From == wing.FromLink {
		k.note("measured from the link: the risers are not in it and are measured on their own")
	}
	k.bench()
	for _, l := range []struct {
		name string
		of   Limit
	}{{"path", k.report.Limits.Path}, {"sides", k.report.Limits.Sides}, {"rows", k.report.Limits.Rows}} {
		if l.of.Fallback {
			k.note(fmt.Sprintf("the plan states no limit %q: %s", l.name, l.of))
		}
	}
}

// bench notes what the readings themselves rest on.
func (k *reckoner) bench() {
	composed, whole, summed, fallback := 0, 0, 0, false
	for i := range k.paths {
		switch p := &k.paths[i]; {
		case p.composed:
			composed++
		case p.stated:
			whole++
		default:
			whole++
			summed++
		}
		fallback = fallback || k.paths[i].m.BenchDefault
	}
	if fallback {
		k.note("nobody described the bench: the uncertainty is that of the default one (fallback)")
	}
	if composed > 0 && whole > 0 {
		k.note(plural(composed, "path") + " made of segments, the others measured whole: a loop on a pin and one in a joint differ by millimetres")
	}
	if composed > 0 && k.set.From == wing.FromRiser {
		k.note("paths made of segments take the riser as the plan gives it")
	}
	if summed > 0 && summed < whole {
		k.note(plural(summed, "path") + " against the sum of the lines, the others against what the papers state for the whole: the two differ by joints and loops")
	}
	if summed > 0 && k.set.Joint == 0 {
		k.note("what a joint adds on this wing is not known and taken as nothing: a part of the common offset may come from it")
	}
}
