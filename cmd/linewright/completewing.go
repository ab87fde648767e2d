package main

import (
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"example.org/linewright/engine/session"
	"example.org/linewright/engine/trim"
	"example.org/linewright/engine/wing"
)

func (h hint) wings() []cobra.Completion {
	if h.store == nil {
		return nil
	}
	ids, err := h.store.Wings()
	if err != nil {
		return nil
	}
	var out []cobra.Completion
	for _, id := range ids {
		if w, err := h.store.Wing(id); err == nil {
			out = append(out, cobra.CompletionWithDesc(id, w.Name+serial(w.Serial)))
		}
	}
	return out
}

// plan is that of the wing, or of the file, that was named before; nil where
// there is none.
func (h hint) plan() *wing.Plan {
	if file := h.given("FILE.toml", "plan"); file != "" {
		data, err := readFile(file)
		if err != nil {
			return nil
		}
		return sound(wing.ParsePlan(data, filepath.Clean(file)))
	}
	id := h.given("WING", "wing")
	if id == "" || h.store == nil {
		return nil
	}
	_, plan, err := loadWing(session.Desk{Store: h.store}, id)
	return sound(plan, err)
}

func sound(p *wing.Plan, err error) *wing.Plan {
	if err != nil {
		return nil
	}
	return p
}

// lines are those of both sides, side by side, from the riser up.
func (h hint) lines() []cobra.Completion { return bothSides(h.plan(), wing.KindLine) }

func bothSides(p *wing.Plan, kind wing.Kind) []cobra.Completion {
	if p == nil {
		return nil
	}
	var out []cobra.Completion
	for _, side := range wing.Sides {
		switch kind {
		case wing.KindLine:
			for _, s := range p.Fan(side) {
				out = append(out, s.Ref.Code+"@"+string(side))
			}
		case wing.KindLink:
			for _, l := range p.Links {
				out = append(out, l.Name+"@"+string(side))
			}
		}
	}
	return out
}

// targets fit the procedure that was named before; where none is, they are all
// of the wing in the form that needs none.
func (h hint) targets() []cobra.Completion {
	p := h.plan()
	if p == nil {
		return nil
	}
	if id := h.given("PROCEDURE", ""); id != "" {
		for _, head := range h.heads() {
			if kind := wing.Kind(head.Target); head.ID == id && targeted(p, kind) {
				return append(bothSides(p, kind), whole(kind)...)
			}
		}
		return nil
	}
	out := bothSides(p, wing.KindLine)
	for _, link := range bothSides(p, wing.KindLink) {
		out = append(out, "link:"+link)
	}
	if targeted(p, wing.KindBrakes) {
		out = append(out, whole(wing.KindBrakes)...)
	}
	return out
}

// whole names a target that has no sides.
func whole(kind wing.Kind) []cobra.Completion {
	if kind == wing.KindBrakes || kind == wing.KindWing {
		return []cobra.Completion{string(kind)}
	}
	return nil
}

// targeted reports whether a plan has a target of a kind.
func targeted(p *wing.Plan, kind wing.Kind) bool {
	switch kind {
	case wing.KindLine:
		return len(p.Lines) > 0
	case wing.KindLink:
		return len(p.Links) > 0
	}
	return p.Has(wing.Ref{Kind: kind})
}

func (h hint) codes() []cobra.Completion {
	var out []cobra.Completion
	if p := h.plan(); p != nil {
		for _, l := range p.Lines {
			out = append(out, l.Code)
		}
	}
	return out
}

func (h hint) points() []cobra.Completion {
	var out []cobra.Completion
	if p := h.plan(); p != nil {
		for _, path := range p.Paths(wing.Left) {
			out = append(out, path.Point)
		}
	}
	return out
}

// places are what has a length in the logbook: lines and paths.
func (h hint) places() []cobra.Completion {
	out := h.lines()
	for _, side := range wing.Sides {
		for _, point := range h.points() {
			out = append(out, point+"@"+string(side))
		}
	}
	return out
}

func (h hint) pulleys() []cobra.Completion {
	var out []cobra.Completion
	if p := h.plan(); p != nil && p.Brake != nil {
		for _, at := range p.Brake.Pulleys {
			out = append(out, at.Name)
		}
	}
	return out
}

// loops are those of the table, for all lines, and then line by line.
func (h hint) loops() []cobra.Completion {
	table := trim.FallbackLoops()
	if file := h.given("", "loops"); file != "" {
		data, err := readFile(file)
		if err != nil {
			return nil
		}
		if table, err = trim.ParseLoops(filepath.Clean(file), data); err != nil {
			return nil
		}
	}
	line, _, one := strings.Cut(h.typed, "=")
	var out []cobra.Completion
	for _, l := range table.Loops {
		if one {
			out = append(out, line+"="+l.Code)
		} else {
			out = append(out, l.Code)
		}
	}
	if !one {
		for _, line := range h.lines() {
			out = append(out, line+"=")
		}
	}
	return out
}
