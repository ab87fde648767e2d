package procedure

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/linewright/engine/source"
)

// File is a procedure file's bytes under the name that messages use.
type File struct {
	Name string
	Data []byte
}

// Library is a set of procedures that may include one another.
type Library struct {
	byID map[string]*Procedure
	bySH map[string]*Procedure
}

// NewLibrary reads, joins and checks procedure files. The error is a
// source.Faults with every fault of every file; the library then holds the
// procedures that are sound.
func NewLibrary(files []File) (*Library, error) {
	lib := &Library{byID: map[string]*Procedure{}, bySH: map[string]*Procedure{}}
	var all, sound []*Procedure
	for _, f := range files {
		p := read(f)
		all = append(all, p)
		if p.Format != Edition {
			continue // nothing in it can be believed
		}
		sound = append(sound, p)
		if first, twice := lib.byID[p.ID]; twice {
			p.doc.Add("id", fmt.Sprintf("the id %q stands in %s too", p.ID, first.doc.File), "give each procedure an id of its own")
		} else {
			lib.byID[p.ID] = p
		}
	}
	for _, p := range sound {
		lib.join(p)
	}
	for _, p := range inOrder(sound) {
		p.grow()
		p.check()
	}
	var faults source.Faults
	for _, p := range all {
		_ = p.doc.Faults.Err() // puts them in order of line
		faults = append(faults, p.doc.Faults...)
		if len(p.doc.Faults) > 0 && lib.byID[p.ID] == p {
			delete(lib.byID, p.ID)
		}
	}
	for _, p := range lib.byID {
		lib.bySH[p.sha] = p
	}
	if len(faults) > 0 {
		return lib, faults
	}
	return lib, nil
}

// Get finds a procedure by its id.
func (l *Library) Get(id string) (*Procedure, bool) {
	p, ok := l.byID[id]
	return p, ok
}

// IDs lists the procedures shelf by shelf in their own order, those without one
// last, by id.
func (l *Library) IDs() []string {
	ids := make([]string, 0, len(l.byID))
	for id := range l.byID {
		ids = append(ids, id)
	}
	slices.SortFunc(ids, func(a, b string) int {
		p, q := l.byID[a], l.byID[b]
		return cmp.Or(cmp.Compare(p.Shelf.rank(), q.Shelf.rank()), cmp.Compare(p.rank(), q.rank()), cmp.Compare(a, b))
	})
	return ids
}

func (p *Procedure) rank() int {
	if p.Order <= 0 {
		return math.MaxInt
	}
	return p.Order
}

// Parts lists a procedure and all that it includes, itself first: what a job
// has to pin.
func (p *Procedure) Parts() []*Procedure {
	out := []*Procedure{p}
	for i := range p.Phases {
		if part := p.parts[p.Phases[i].Include]; part != nil {
			for _, q := range part.Parts() {
				if !holds(out, q) {
					out = append(out, q)
				}
			}
		}
	}
	return out
}

// Bytes are the file's bytes, as they were read.
func (p *Procedure) Bytes() []byte { return p.data }

func holds(list []*Procedure, p *Procedure) bool {
	for _, q := range list {
		if q == p {
			return true
		}
	}
	return false
}

func read(f File) *Procedure {
	p := &Procedure{data: f.Data}
	p.doc = source.Decode(f.Name, f.Data, p)
	p.locate()
	p.numbers()
	sum := sha256.Sum256(f.Data)
	p.sha = hex.EncodeToString(sum[:])
	const key = "linewright_procedure"
	cure := fmt.Sprintf("begin the file with %s = %d", key, Edition)
	switch {
	case p.Format == Edition || len(p.doc.Faults) > 0:
	case !bytes.Contains(f.Data, []byte(key)):
		p.doc.Add("", "this is no procedure file: the key "+key+" is missing", cure)
	default:
		p.doc.Add(key, fmt.Sprintf("edition %d of the procedure file is not known", p.Format), cure)
	}
	return p
}

// grow adds the steps of the includes, which have been counted before; beyond
// what is allowed the number does not matter.
func (p *Procedure) grow() {
	for i := range p.Phases {
		if part := p.parts[p.Phases[i].Include]; part != nil {
			p.size = min(p.size+part.size, 2*maxSteps)
		}
	}
}

// join finds the procedures that p includes and refuses a circle.
func (l *Library) join(p *Procedure) {
	p.parts = map[string]*Procedure{}
	for i := range p.Phases {
		ph := &p.Phases[i]
		if ph.Include == "" {
			continue
		}
		key := fmt.Sprintf("phase[%d].include", i)
		part, ok := l.byID[ph.Include]
		switch {
		case !ok:
			p.doc.Add(key, fmt.Sprintf("there is no procedure %q", ph.Include), "procedures here: "+strings.Join(l.IDs(), ", "))
		case l.reaches(part, p, map[*Procedure]bool{}):
			p.doc.Add(key, fmt.Sprintf("%q includes this procedure again", ph.Include), "take one of the includes out")
		default:
			p.parts[ph.Include] = part
		}
	}
}

func (l *Library) reaches(from, to *Procedure, seen map[*Procedure]bool) bool {
	if from == to {
		return true
	}
	if from == nil || seen[from] {
		return false
	}
	seen[from] = true
	for i := range from.Phases {
		if id := from.Phases[i].Include; id != "" && l.reaches(l.byID[id], to, seen) {
			return true
		}
	}
	return false
}

// inOrder puts included procedures before those that include them, so that
// their steps have types when they are asked for.
func inOrder(all []*Procedure) []*Procedure {
	var out []*Procedure
	var add func(p *Procedure)
	add = func(p *Procedure) {
		if holds(out, p) {
			return
		}
		for i := range p.Phases {
			if part := p.parts[p.Phases[i].Include]; part != nil {
				add(part)
			}
		}
		out = append(out, p)
	}
	for _, p := range all {
		add(p)
	}
	return out
}
