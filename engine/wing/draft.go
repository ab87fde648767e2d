package wing

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"example.org/linewright/engine/quantity"
)

// Draft is a plan before it is checked: what a plan file is to say. TOML writes
// it and ParsePlan checks it, so that a plan is judged in one place only.
type Draft struct {
	Plan       // its exported fields; the rest of it is not read
	Limits     map[LimitName]Limit
	Exceptions []Exception
	Remark     string // stands at the head of the file as a comment; may have several lines
}

// Exception is a line as it is on the side that differs.
type Exception struct {
	Side Side
	Line Line
}

// Draft gives the plan as it would be written anew.
func (p *Plan) Draft() Draft {
	return Draft{Plan: *p, Limits: maps.Clone(p.limits), Exceptions: p.Exceptions()}
}

// Exceptions lists what differs on one side, in the order of the lines, left
// before right. An exception that changes nothing is not among them.
func (p *Plan) Exceptions() []Exception {
	var all []Exception
	for _, l := range p.Lines {
		for _, side := range Sides {
			if other, ok := p.exceptions[LineRef(l.Code, side)]; ok && other != l {
				all = append(all, Exception{side, other})
			}
		}
	}
	return all
}

// TOML writes the plan file. ParsePlan reads it as the same plan; where the
// draft is at fault, or a text too long for a line, ParsePlan says so.
func (d Draft) TOML() []byte {
	w := &writer{}
	for line := range strings.SplitSeq(d.Remark, "\n") {
		w.put(d.Remark != "", "# "+line)
	}
	w.head(d)
	for _, r := range d.Risers {
		w.table("[[riser]]")
		w.text("branch", r.Branch)
		w.length("length_mm", r.Length)
	}
	for _, l := range d.Links {
		w.link(l)
	}
	for _, l := range slices.Concat(d.Lines, d.Loose) {
		w.line(l)
	}
	for _, s := range d.Stated {
		w.table("[[path]]")
		w.text("point", s.Point)
		w.text("row", s.Row)
		w.length("length_mm", s.Length)
	}
	for _, r := range d.Places {
		w.place(r)
	}
	w.brake(d.Brake)
	for _, e := range d.Exceptions {
		i := slices.IndexFunc(d.Lines, func(l Line) bool { return l.Code == e.Line.Code })
		w.exception(e, d.Lines[max(i, 0)])
	}
	return []byte(w.b.String())
}

// writer writes keys; what is not given it leaves out.
type writer struct{ b strings.Builder }

func (w *writer) put(given bool, line string) {
	if given {
		w.b.WriteString(line + "\n")
	}
}

func (w *writer) table(name string) { w.put(true, "\n"+name) }

func (w *writer) text(key, value string) {
	if value != "" {
		w.put(true, key+" = "+quote(value))
	}
}

func (w *writer) truth(key string, value, given bool) {
	w.put(given, key+" = "+strconv.FormatBool(value))
}

func (w *writer) length(key string, l quantity.Length) {
	w.put(l != 0, key+" = "+number(l.String()))
}

func (w *writer) float(key string, x float64, given bool) {
	w.put(given, key+" = "+strconv.FormatFloat(x, 'f', -1, 64))
}

// number takes the unit off.
func number(text string) string {
	n, _, _ := strings.Cut(text, " ")
	return n
}

var escapes = strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", `\n`, "\r", `\r`, "\t", `\t`)

// quote writes a text of TOML. A plan's texts hold no control characters.
func quote(s string) string {
	if strings.ContainsAny(s, `"\`) && !strings.Contains(s, "'") {
		return "'" + s + "'"
	}
	return `"` + escapes.Replace(s) + `"`
}

func (w *writer) head(d Draft) {
	w.put(true, fmt.Sprintf("linewright_plan = %d", Edition))
	w.text("name", d.Name)
	w.text("size", d.Size)
	w.truth("partial", true, d.Partial)
	w.truth("as_found", true, d.AsFound)
	w.float("greatest_mass_kg", d.GreatestMassKG, d.GreatestMassKG != 0)
	w.text("paths_from", string(d.PathsFrom))
	w.table("[source]")
	w.text("text", d.Source.Text)
	w.text("date", d.Source.Date)
	if d.Pull != (Pull{}) {
		w.table("[pull]")
		w.put(true, "n = "+number(d.Pull.Force.String()))
		w.text("source", d.Pull.Source)
	}
	if len(d.Limits) > 0 {
		w.table("[limits]")
	}
	for _, name := range slices.Sorted(maps.Keys(d.Limits)) {
		w.given(string(name), d.Limits[name])
	}
}

func (w *writer) given(key string, l Limit) {
	w.put(l != (Limit{}), fmt.Sprintf("%s = { mm = %s, source = %s }", key, number(l.Length.String()), quote(l.Source)))
}

func (w *writer) link(l Link) {
	w.table("[[link]]")
	w.text("name", l.Name)
	w.text("branch", l.Branch)
	w.text("kind", string(l.Kind))
	w.length("wire_mm", l.Wire)
	w.length("pitch_mm", l.Pitch)
	w.length("thread_mm", l.Thread)
	w.text("source", l.Source)
	w.put(l.Torque != 0, "torque_nm = "+number(l.Torque.String()))
	w.text("torque_source", l.TorqueSource)
	w.text("retainer", l.Retainer)
}

func (w *writer) line(l Line) {
	w.table("[[line]]")
	w.text("code", l.Code)
	w.text("row", l.Row)
	w.text("tier", string(l.Tier))
	w.text("on", l.On.String())
	w.put(l.Pos != 0, "pos = "+strconv.Itoa(l.Pos))
	w.text("point", l.Point)
	w.float("span", l.Span, l.Span >= 0)
	w.truth("sewn", true, l.Sewn)
	w.truth("sheathed", !l.Bare, !l.Unseen)
	w.differs(l, Line{})
}

// differs writes the measures and texts that are other than those of base.
func (w *writer) differs(l, base Line) {
	if l.Length != base.Length {
		w.length("length_mm", l.Length)
	}
	if l.Material != base.Material {
		w.text("material", l.Material)
	}
	if l.Colour != base.Colour {
		w.text("colour", l.Colour)
	}
	if l.Diameter != base.Diameter {
		w.length("diameter_mm", l.Diameter)
	}
	w.put(l.Strength != base.Strength, "strength_n = "+number(l.Strength.String()))
}

// place writes the place of a row, which may be 0.
func (w *writer) place(r RowPlace) {
	w.table("[[row]]")
	w.text("name", r.Row)
	w.put(true, "chord_mm = "+number(r.At.String()))
	w.float("load_weight", r.Load, r.Load != 0)
	w.text("source", r.Source)
}

func (w *writer) brake(b *Brake) {
	if b == nil {
		return
	}
	w.table("[brake]")
	w.text("main", b.Main)
	w.length("spare_mm", b.Spare)
	w.given("least_tail", b.LeastTail)
	w.given("least_free_play", b.LeastFreePlay)
	for _, p := range b.Pulleys {
		w.table("[[brake.pulley]]")
		w.text("name", p.Name)
		w.length("below_mm", p.Below)
	}
}

func (w *writer) exception(e Exception, base Line) {
	w.table("[[exception]]")
	w.text("side", string(e.Side))
	w.text("code", e.Line.Code)
	w.truth("sheathed", !e.Line.Bare, e.Line.Bare != base.Bare)
	w.differs(e.Line, base)
}
