package procedure

import (
	"cmp"
	"slices"
	"strings"

	"example.org/linewright/engine/wing"
)

// Facts are what expressions and texts may know of plan and target. One that
// the plan does not give is absent.
type Facts map[string]any

// factTypes lists every fact with its type.
var factTypes = map[string]Type{
	"side": Word, "other_side": Word,

	"line.code": Word, "line.row": Word, "line.tier": Word, "line.material": Word,
	"line.length_mm": Number, "line.strength_n": Number, "line.joints": Number,
	"line.carries": Number, "line.carried": Word, "line.sheathed": Truth, "line.sewn": Truth,
	"line.brake_main": Truth, "line.on_riser": Truth, "line.on_handle": Truth, "line.below": Word,
	"line.neighbours": Word, "line.root": Word, "line.root_place": Number, "line.root_neighbours": Word, "line.diameter_mm": Number,
	"line.points": Word,

	"link.kind": Word, "link.name": Word, "link.lines": Number, "link.codes": Word, "link.order": List,
	"link.turns": Number, "link.torque_nm": Number, "link.torque_source": Word,

	"tab.name": Word, "tab.lines": Number, "tab.codes": Word,

	"brake.pulleys": Word, "brake.places": Number, "brake.least_tail_mm": Number, "brake.least_tail_source": Word,
	"brake.second_mm": Number, "brake.third_mm": Number, "brake.fourth_mm": Number, // below the first place
	"brake.main": Word, "brake.spare_mm": Number,

	"limits.line_mm": Number, "limits.line_source": Word,
	"limits.twin_mm": Number, "limits.twin_source": Word,
	"limits.pulleys_mm": Number, "limits.pulleys_source": Word,
	"limits.play_mm": Number, "limits.play_source": Word,
	"limits.knot_mm": Number, "limits.knot_source": Word,
	"limits.identity_mm": Number, "limits.identity_source": Word,
	"free_play_mm": Number, "free_play_source": Word,

	"pull_n": Number, "pull_source": Word, "prestretch_n": Number, "prestretch_source": Word,
	"plan.name": Word, "plan.source": Word, "plan.codes": List, "plan.partial": Truth, "paths_from": Word,
}

// mayLack lists the facts that not every plan gives; an expression asks for
// them by has(). All others are there on every target: where a target is no
// line, or is on no link or no riser tab, its facts are empty, so that a bar
// can ask link.kind.
var mayLack = map[string]bool{
	"line.length_mm": true, "line.strength_n": true, "line.diameter_mm": true,
	"link.turns": true, "link.torque_nm": true, "link.torque_source": true,
	"brake.second_mm": true, "brake.third_mm": true, "brake.fourth_mm": true,
	"brake.places": true, "brake.spare_mm": true,
}

// shows reports whether a name gives a covered target away. The turn of a
// repetition does, unless both sides are gone through in any case.
func shows(name string, each Each) bool {
	head, _, _ := strings.Cut(name, ".")
	switch head {
	case "line", "link", "tab", "side", "other_side":
		return true
	case "here":
		return each != EachSide && name != "here.turn"
	}
	return false
}

// fallback is what stands where neither plan nor manual gives a number.
const fallback = "fallback: common practice, no source"

// factsOf gathers the facts of a target. The caller has seen to it that the
// target exists in the plan.
func factsOf(plan *wing.Plan, target wing.Ref) Facts {
	f := Facts{}
	for name, t := range factTypes {
		if !mayLack[name] {
			f[name] = zero[t]
		}
	}
	f["side"], f["other_side"] = string(target.Side), string(target.Side.Other())
	f["plan.name"], f["plan.source"] = plan.Name, plan.Source.Text
	f["plan.codes"], f["plan.partial"] = strings.Fields(codes(plan.Lines)), plan.Partial
	f["paths_from"] = "the inside of the link"
	if plan.PathsFrom == wing.FromRiser {
		f["paths_from"] = "the riser's loop for the carabiner"
	}
	limits(f, plan)
	brakes(f, plan)
	if target.Kind == wing.KindLine {
		lineFacts(f, plan, target)
	}
	if link, ok := linkOf(plan, target); ok {
		linkFacts(f, plan, link)
	}
	return f
}

func limits(f Facts, plan *wing.Plan) {
	for name, mm := range fallbackMM {
		key := "limits." + string(name)
		f[key+"_mm"], f[key+"_source"] = mm, fallback
		if l, ok := plan.Limit(name); ok {
			f[key+"_mm"], f[key+"_source"] = l.Length.MM(), l.Source
		}
	}
	f["pull_n"], f["pull_source"] = 50.0, fallback
	if plan.Pull.Force > 0 {
		f["pull_n"], f["pull_source"] = plan.Pull.Force.N(), plan.Pull.Source
	}
	f["prestretch_n"], f["prestretch_source"] = f["pull_n"], "strength unknown: at the measuring pull only; common practice, no source"
}

// fallbackMM holds the limits that procedures use where the plan has none.
// Common practice, no source; whoever sees one also sees the word fallback.
var fallbackMM = map[wing.LimitName]float64{
	wing.LimitLine: 10, wing.LimitTwin: 5, wing.LimitPulleys: 5, wing.LimitKnot: 5, wing.LimitPlay: 10, wing.LimitIdentity: 20,
}

func brakes(f Facts, plan *wing.Plan) {
	f["brake.least_tail_mm"], f["brake.least_tail_source"] = 50.0, fallback
	f["free_play_mm"], f["free_play_source"] = 100.0, fallback
	b := plan.Brake
	if b == nil {
		return
	}
	f["brake.main"] = b.Main
	names := make([]string, len(b.Pulleys))
	for i, p := range b.Pulleys {
		names[i] = p.Name
	}
	f["brake.pulleys"] = strings.Join(names, ", ")
	if len(b.Pulleys) > 0 {
		f["brake.places"] = float64(len(b.Pulleys))
	}
	places(f, b.Pulleys)
	if b.Spare > 0 {
		f["brake.spare_mm"] = b.Spare.MM()
	}
	if b.LeastTail.Length > 0 {
		f["brake.least_tail_mm"], f["brake.least_tail_source"] = b.LeastTail.Length.MM(), b.LeastTail.Source
	}
	if b.LeastFreePlay.Length > 0 {
		f["free_play_mm"], f["free_play_source"] = b.LeastFreePlay.Length.MM(), b.LeastFreePlay.Source
	}
}

// places gives how far the pulley places lie below the first: all of them or
// none. One that the riser has not is chosen by nobody; it lies at the last.
func places(f Facts, pulleys []wing.Pulley) {
	if len(pulleys) < 2 || slices.ContainsFunc(pulleys[1:], func(p wing.Pulley) bool { return p.Below <= 0 }) {
		return
	}
	below := 0.0
	for i, name := range []string{"brake.second_mm", "brake.third_mm", "brake.fourth_mm"} {
		if i+1 < len(pulleys) {
			below += pulleys[i+1].Below.MM()
		}
		f[name] = below
	}
}

func lineFacts(f Facts, plan *wing.Plan, target wing.Ref) {
	l, ok := plan.LineAt(target)
	if !ok {
		return
	}
	f["line.code"], f["line.row"], f["line.tier"] = l.Code, l.Row, string(l.Tier)
	f["line.sheathed"], f["line.sewn"], f["line.material"] = !l.Bare, l.Sewn, l.Material
	f["line.brake_main"] = plan.Brake != nil && plan.Brake.Main == l.Code
	if l.Length > 0 {
		f["line.length_mm"] = l.Length.MM()
	}
	f["line.joints"] = float64(plan.Joints(l.Code))
	f["line.carried"], f["line.carries"] = carried(plan, l)
	f["line.neighbours"] = codes(plan.Neighbours(l.Code))
	f["line.points"] = strings.Join(plan.Points(l.Code), " ")
	chain := plan.Chain(l.Code)
	f["line.root_place"] = float64(chain[0].Pos)
	f["line.root"], f["line.root_neighbours"] = chain[0].Code, codes(plan.Neighbours(chain[0].Code))
	f["line.on_riser"] = chain[0].On.Kind == wing.OnRiser
	f["line.on_handle"] = chain[0].On.Kind == wing.OnHandle
	if chain[0].On.Kind == wing.OnRiser {
		tabFacts(f, plan, chain[0].On)
	}
	if len(chain) > 1 {
		f["line.below"] = chain[len(chain)-2].Code
	}
	if l.Diameter > 0 {
		f["line.diameter_mm"] = l.Diameter.MM()
	}
	if l.Strength > 0 {
		f["line.strength_n"] = l.Strength.N()
		f["prestretch_n"] = min(200, l.Strength.N()/5)
		f["prestretch_source"] = "the lesser of 200 N and a fifth of the strength; common practice, no source"
	}
}

// tabFacts says what lies on the riser tab at the foot of a line's chain.
func tabFacts(f Facts, plan *wing.Plan, tab wing.Anchor) {
	var on []wing.Line
	for _, l := range plan.Lines {
		if l.On == tab {
			on = append(on, l)
		}
	}
	slices.SortStableFunc(on, func(a, b wing.Line) int { return cmp.Compare(a.Pos, b.Pos) })
	f["tab.name"], f["tab.lines"], f["tab.codes"] = tab.Name, float64(len(on)), codes(on)
}

func linkFacts(f Facts, plan *wing.Plan, link wing.Link) {
	on := plan.OnLink(link.Name)
	f["link.kind"], f["link.name"], f["link.lines"], f["link.codes"] = string(link.Kind), link.Name, float64(len(on)), codes(on)
	f["link.order"] = strings.Fields(codes(on))
	if turns, ok := link.Turns(); ok {
		f["link.turns"] = turns
	}
	if link.Torque > 0 {
		f["link.torque_nm"], f["link.torque_source"] = link.Torque.NM(), link.TorqueSource
	}
}

// linkOf gives the link that a target is about, if there is one.
func linkOf(plan *wing.Plan, target wing.Ref) (wing.Link, bool) {
	switch target.Kind {
	case wing.KindLink:
		return plan.Link(target.Code)
	case wing.KindLine:
		return plan.LinkOf(target.Code)
	}
	return wing.Link{}, false
}

// carried names what hangs in a line's upper end: lines, or its tab.
func carried(plan *wing.Plan, l wing.Line) (string, float64) {
	if up := plan.Carries(l.Code); len(up) > 0 {
		return codes(up), float64(len(up))
	}
	return "tab " + l.Point, 1
}

func codes(lines []wing.Line) string {
	all := make([]string, len(lines))
	for i, l := range lines {
		all[i] = l.Code
	}
	return strings.Join(all, " ")
}
