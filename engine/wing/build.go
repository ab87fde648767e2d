package wing

import (
	"fmt"
	"maps"
	"slices"

	"example.org/linewright/engine/quantity"
)

func (b *builder) head(f *planFile) {
	p := b.plan
	p.Partial, p.AsFound = f.Partial, f.AsFound
	if f.AsFound && !f.Partial {
		b.doc.Add("as_found", "a plan of the wing as found is not complete", "write partial = true too, or leave as_found out")
	}
	p.Name = b.text("name", f.Name, "name the wing")
	p.Size = b.text("size", f.Size, "give the size as the maker writes it")
	p.Source.Text = b.text("source.text", f.Source.Text, "say where these data come from")
	p.Source.Date = b.text("source.date", f.Source.Date, "give the date that the source bears")
	p.GreatestMassKG, _ = b.number("greatest_mass_kg", f.GreatestMass, 20, 600, "kg")
}

func (b *builder) limits(f *planFile) {
	p := b.plan
	p.limits = map[LimitName]Limit{}
	for _, key := range slices.Sorted(maps.Keys(f.Limits)) {
		g := f.Limits[key]
		at := "limits." + key
		if name, ok := oneOf(b, at, key, LimitNames); ok {
			p.limits[name] = b.given(at, &g, 1000)
		}
	}
	if f.Pull == nil {
		return
	}
	if f.Pull.N == nil {
		b.missing("pull.n", "give it in N, or leave out pull")
	}
	p.Pull = Pull{
		Force:  b.force("pull.n", f.Pull.N, 1, 500),
		Source: b.text("pull.source", f.Pull.Source, "say who gives this number"),
	}
}

func (b *builder) force(key string, newtons *float64, low, high float64) quantity.Force {
	v, ok := b.number(key, newtons, low, high, "N")
	if !ok {
		return 0
	}
	f, err := quantity.ForceFromN(v)
	if err != nil {
		b.doc.Add(key, err.Error(), "give a plain decimal number")
	}
	return f
}

func (b *builder) risers(tables []riserTable) {
	for i, t := range tables {
		at := fmt.Sprintf("riser[%d]", i)
		if !b.name(at+".branch", t.Branch, "A") {
			continue
		}
		b.unique("riser branch", t.Branch, at+".branch", "give each branch one name of its own")
		b.plan.Risers = append(b.plan.Risers, Riser{t.Branch, b.lineLength(at+".length_mm", t.LengthMM)})
	}
}

func (b *builder) links(tables []linkTable) {
	for i, t := range tables {
		at := fmt.Sprintf("link[%d]", i)
		if b.name(at+".name", t.Name, "C") {
			b.unique("link", t.Name, at+".name", "give each link one name of its own")
		}
		if b.name(at+".branch", t.Branch, "C") {
			if _, ok := b.plan.Riser(t.Branch); !ok && !b.bad["riser"] {
				b.doc.Add(at+".branch", fmt.Sprintf("there is no riser branch %s: the lines of this link reach no riser", t.Branch), "correct the name, or add the [[riser]]")
			}
		}
		b.plan.Links = append(b.plan.Links, b.link(at, t))
	}
}

func (b *builder) link(at string, t linkTable) Link {
	kind, _ := oneOf(b, at+".kind", t.Kind, []LinkKind{Screw, Soft})
	l := Link{
		Name: t.Name, Branch: t.Branch, Kind: kind,
		Wire:     b.length(at+".wire_mm", t.WireMM, 0.5, 20),
		Pitch:    b.length(at+".pitch_mm", t.PitchMM, 0.1, 5),
		Thread:   b.length(at+".thread_mm", t.ThreadMM, 0.5, 50),
		Retainer: b.text(at+".retainer", t.Retainer, ""),
	}
	need := ""
	if t.WireMM != nil || t.PitchMM != nil || t.ThreadMM != nil {
		need = "say who gives the measures of this link"
	}
	l.Source = b.text(at+".source", t.Source, need)
	b.torque(at, t, &l)
	if kind == Soft && (t.PitchMM != nil || t.ThreadMM != nil || t.TorqueNM != nil) {
		b.doc.Add(at+".kind", "a soft link has no thread and no torque", "leave out pitch_mm, thread_mm and torque_nm, or write screw")
	}
	return l
}

func (b *builder) torque(at string, t linkTable, l *Link) {
	need := ""
	if v, ok := b.number(at+".torque_nm", t.TorqueNM, 0.05, 50, "N·m"); ok {
		need = "say who gives the torque"
		torque, err := quantity.TorqueFromNM(v)
		if err != nil {
			b.doc.Add(at+".torque_nm", err.Error(), "give a plain decimal number")
		}
		l.Torque = torque
	}
	l.TorqueSource = b.text(at+".torque_source", t.TorqueSource, need)
}

func (b *builder) lines(tables []lineTable) {
	b.plan.byCode = make(map[string]int, len(tables))
	if len(tables) > MaxLines {
		b.doc.Add(fmt.Sprintf("line[%d]", MaxLines), fmt.Sprintf("the plan has %d lines", len(tables)), fmt.Sprintf("at most %d are read; one table serves both sides", MaxLines))
		return
	}
	for i, t := range tables {
		at := fmt.Sprintf("line[%d]", i)
		sound := b.code(at+".code", t.Code) &&
			b.unique("code", t.Code, at+".code", "give each line one code of its own; C1 and c1 are two codes")
		if t.On == "" && b.plan.Partial && !b.bad[at+".on"] {
			b.plan.Loose = append(b.plan.Loose, b.looseLine(at, t))
			continue
		}
		if sound {
			b.plan.byCode[t.Code] = len(b.plan.Lines)
		}
		b.at = append(b.at, i)
		b.plan.Lines = append(b.plan.Lines, b.line(at, t))
	}
}

// code checks a line code. It may not be the word that stands for the handle.
func (b *builder) code(key, code string) bool {
	if code == string(OnHandle) {
		b.doc.Add(key, "a line cannot be called "+code, "give it another code: that word stands for the brake handle")
		return false
	}
	return b.name(key, code, "C1.2")
}

func (b *builder) line(at string, t lineTable) Line {
	l := b.thing(at, t)
	b.name(at+".row", t.Row, "C")
	l.On = ParseAnchor(t.On)
	l.Tier, _ = oneOf(b, at+".tier", t.Tier, Tiers)
	if t.On == "" {
		b.missing(at+".on", `say what it hangs on: "link:C", a line code, "riser:B" or "handle"`)
	}
	if t.Pos != nil {
		l.Pos = *t.Pos
		if l.Pos < 1 || l.Pos > MaxLines {
			b.doc.Add(at+".pos", fmt.Sprintf("%d is not a place", l.Pos), "count from the centre, beginning with 1")
		}
	}
	if t.Sheathed == nil {
		b.missing(at+".sheathed", "write true for a line with a sheath, false for a bare one")
	}
	return l
}

// looseLine reads a line that does not say what it hangs on. It cannot have a
// place there then, and need not say more than its code.
func (b *builder) looseLine(at string, t lineTable) Line {
	l := b.thing(at, t)
	l.Unseen = t.Sheathed == nil
	if t.Row != "" {
		b.name(at+".row", t.Row, "C")
	}
	if t.Tier != "" {
		l.Tier, _ = oneOf(b, at+".tier", t.Tier, Tiers)
	}
	if t.Pos != nil {
		b.doc.Add(at+".pos", "the line has a place on something, but does not say on what", "add on, or leave pos out")
	}
	return l
}

// thing reads what a line is, wherever it hangs.
func (b *builder) thing(at string, t lineTable) Line {
	l := Line{Code: t.Code, Row: t.Row, Point: t.Point, Sewn: t.Sewn, Span: -1}
	if t.Point != "" {
		b.point(at+".point", t.Point)
	}
	if v, ok := b.number(at+".span", t.Span, 0, 1, "of the half span"); ok {
		l.Span = v
	}
	l.Length = b.lineLength(at+".length_mm", t.LengthMM)
	l.Bare = t.Sheathed != nil && !*t.Sheathed
	l.Material = b.text(at+".material", t.Material, "")
	l.Colour = b.text(at+".colour", t.Colour, "")
	l.Diameter = b.diameter(at, t.DiameterMM)
	l.Strength = b.strength(at, t.StrengthN)
	return l
}

func (b *builder) diameter(at string, mm *float64) quantity.Length {
	return b.length(at+".diameter_mm", mm, 0.2, 10)
}

func (b *builder) strength(at string, newtons *float64) quantity.Force {
	return b.force(at+".strength_n", newtons, 50, 20000)
}

func (b *builder) point(key, point string) {
	if !b.name(key, point, "C7") {
		return
	}
	if pointNumber(point) == 0 {
		b.doc.Add(key, fmt.Sprintf("the point %s has no number", point), "end it with its place from the centre in its row, such as C7")
		return
	}
	b.unique("point", point, key, "give each attachment point to one line")
}

func (b *builder) exceptions(tables []exceptionTable) {
	b.plan.exceptions = map[Ref]Line{}
	if len(b.plan.Lines) == 0 {
		return
	}
	for i, t := range tables {
		at := fmt.Sprintf("exception[%d]", i)
		side, ok := oneOf(b, at+".side", t.Side, Sides)
		if !b.name(at+".code", t.Code, "C1.2") || !ok {
			continue
		}
		n, found := b.plan.byCode[t.Code]
		if !found {
			b.doc.Add(at+".code", "there is no line "+t.Code, "correct the code; C1 and c1 are two codes")
			continue
		}
		b.unique("exception", t.Code+" "+t.Side, at+".code", "state one exception for each line and side")
		b.plan.exceptions[LineRef(t.Code, side)] = b.except(at, t, b.plan.Lines[n])
	}
}

// except gives the line as it is on the side that differs.
func (b *builder) except(at string, t exceptionTable, l Line) Line {
	if t == (exceptionTable{Side: t.Side, Code: t.Code}) {
		b.missing(at+".length_mm", "say what differs on this side: length_mm, material, colour, sheathed, diameter_mm or strength_n")
	}
	if t.LengthMM != nil {
		l.Length = b.lineLength(at+".length_mm", t.LengthMM)
	}
	if t.DiameterMM != nil {
		l.Diameter = b.diameter(at, t.DiameterMM)
	}
	if t.StrengthN != nil {
		l.Strength = b.strength(at, t.StrengthN)
	}
	if t.Sheathed != nil {
		l.Bare = !*t.Sheathed
	}
	if t.Material != "" {
		l.Material = b.text(at+".material", t.Material, "")
	}
	if t.Colour != "" {
		l.Colour = b.text(at+".colour", t.Colour, "")
	}
	return l
}

func (b *builder) brake(t *brakeTable) {
	if t == nil {
		return
	}
	br := &Brake{
		Main:          t.Main,
		Spare:         b.length("brake.spare_mm", t.SpareMM, 1, 2000),
		LeastTail:     b.given("brake.least_tail", t.LeastTail, 1000),
		LeastFreePlay: b.given("brake.least_free_play", t.LeastPlay, 1000),
	}
	if t.Main != "" || !b.plan.Partial {
		b.name("brake.main", t.Main, "Br1.1")
	}
	for i, pt := range t.Pulleys {
		br.Pulleys = append(br.Pulleys, b.pulley(i, pt))
	}
	b.plan.Brake = br
}

// pulley reads one place of the brake pulley. The distance to the place above
// belongs to every place but the first.
func (b *builder) pulley(i int, t pulleyTable) Pulley {
	at := fmt.Sprintf("brake.pulley[%d]", i)
	if b.name(at+".name", t.Name, "high") {
		b.unique("pulley place", t.Name, at+".name", "give each place one name of its own")
	}
	switch {
	case i == 0 && t.BelowMM != nil:
		b.doc.Add(at+".below_mm", "the first place has none above it", "list the places from the highest down; below_mm begins with the second")
	case i > 0 && t.BelowMM == nil && !b.plan.Partial:
		b.missing(at+".below_mm", "give the distance to the place above it in mm; only a partial plan may leave it out")
	case i > 0:
		return Pulley{t.Name, b.length(at+".below_mm", t.BelowMM, 5, 1000)}
	}
	return Pulley{Name: t.Name}
}
