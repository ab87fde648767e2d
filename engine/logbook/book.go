package logbook

import (
	"cmp"
	"slices"

	"example.org/linewright/engine/job"
)

// Book is the logbook of one wing on one day.
type Book struct {
	Wing   string `json:"wing"`
	Name   string `json:"wing_name"` // as the last job has it
	Serial string `json:"serial,omitempty"`
	Today  string `json:"today"` // 2006-01-02
	Hours  Hours  `json:"hours"`
	Demo   bool   `json:"demo,omitempty"` // sample data stands in it: no statement about any wing
	Status Status `json:"status"`

	Open     []Entry              `json:"open_findings"`
	Deferred []Entry              `json:"deferred_findings"`
	Over     []Entry              `json:"ended_findings"` // mended, cleared, struck, or sound by their rule
	Due      []Due                `json:"due"`
	Fitted   []FittedIn           `json:"fitted"`
	Lengths  map[Place][]LengthAt `json:"lengths"` // each in the order in which it was measured
	Jobs     []Page               `json:"jobs"`    // in the order in which they were begun
	Unread   []Unread             `json:"unread_jobs"`
}

// Hours is what is known of the wing's flying time today.
type Hours struct {
	// Now is the flying time; nil where nothing is known. If it was not said
	// today it is that of the last job that knew it, and the wing has at least
	// as much.
	Now  *job.Hours `json:"tenths,omitempty"`
	Said bool       `json:"said_today"`
	Job  int        `json:"job,omitempty"` // whose it is, where it was not said today
	At   string     `json:"at,omitempty"`  // when that job began
}

// Entry is a finding over all jobs: first date and ID are those of the line by
// which it was first written, the state is that of the last word about it.
type Entry struct {
	Finding
	Job int   `json:"job"`  // which had the last word
	In  []int `json:"jobs"` // all that know it
	// RunOut says whether a deferral has run out, as far as is known.
	RunOut Reach `json:"deferral_run_out,omitempty"`
}

// FittedIn is a part with the job that fitted it.
type FittedIn struct {
	Fitted
	Job   int        `json:"job"`
	Hours *job.Hours `json:"hours_tenths,omitempty"` // of the wing when that job began
}

// Unread is a job that cannot be read, so that what it holds is missing here.
// Of some it cannot be told whether they are of this wing.
type Unread struct {
	Job    int    `json:"job"`
	OfWing bool   `json:"of_this_wing"`
	Fault  string `json:"fault"`
}

// Bind folds the pages of a wing into its book. Pages of other wings are left
// out. today is a date, 2006-01-02; hours is the wing's flying time today, nil
// where nobody said it.
func Bind(wing string, pages []Page, today string, hours *job.Hours) Book {
	b := Book{
		Wing: wing, Today: today, Open: []Entry{}, Deferred: []Entry{}, Over: []Entry{}, Due: []Due{},
		Fitted: []FittedIn{}, Lengths: map[Place][]LengthAt{}, Jobs: []Page{}, Unread: []Unread{},
	}
	for _, p := range pages {
		switch {
		case p.Fault != "" && (p.Wing == wing || p.Wing == ""):
			b.Unread = append(b.Unread, Unread{p.Job, p.Wing == wing, p.Fault})
		case p.Fault == "" && p.Wing == wing:
			b.Jobs = append(b.Jobs, p)
		}
	}
	slices.SortStableFunc(b.Jobs, func(x, y Page) int {
		return cmp.Or(cmp.Compare(x.Begun, y.Begun), cmp.Compare(x.Job, y.Job))
	})
	for _, p := range b.Jobs {
		b.Name, b.Serial, b.Demo = p.WingName, p.Serial, b.Demo || p.Demo
	}
	b.Hours = known(b.Jobs, hours)
	b.sortFindings(merge(b.Jobs))
	b.gather()
	b.Due = b.due()
	b.Status = b.status()
	return b
}

// known is what the jobs know of the wing's flying time, unless it is said. A
// wing does not fly less: the greatest counts.
func known(pages []Page, said *job.Hours) Hours {
	if said != nil {
		return Hours{Now: said, Said: true}
	}
	var h Hours
	for _, p := range pages {
		if p.Hours != nil && (h.Now == nil || *p.Hours >= *h.Now) {
			h = Hours{Now: p.Hours, Job: p.Job, At: p.Begun}
		}
	}
	return h
}

// sortFindings puts each finding where it belongs, the oldest first.
func (b *Book) sortFindings(all []Entry) {
	slices.SortStableFunc(all, func(x, y Entry) int { return cmp.Compare(x.At, y.At) })
	for _, e := range all {
		switch e.State {
		case job.StateOpen:
			b.Open = append(b.Open, e)
		case job.StateDeferred:
			e.RunOut = b.runOut(e.Deferred)
			b.Deferred = append(b.Deferred, e)
		default:
			b.Over = append(b.Over, e)
		}
	}
}

// gather collects parts and lengths over the jobs in the order of their dates.
func (b *Book) gather() {
	for _, p := range b.Jobs {
		for _, f := range p.Fitted {
			b.Fitted = append(b.Fitted, FittedIn{f, p.Job, p.Hours})
		}
		for _, m := range p.Measured {
			m.Job = p.Job // a job that came from elsewhere can have got another number
			for _, l := range m.Lengths {
				b.Lengths[l.Of] = append(b.Lengths[l.Of], LengthAt{m.Measuring, l})
			}
		}
	}
	slices.SortStableFunc(b.Fitted, func(x, y FittedIn) int { return cmp.Compare(x.Moment.At, y.Moment.At) })
	for _, list := range b.Lengths {
		slices.SortStableFunc(list, func(x, y LengthAt) int { return cmp.Compare(x.Moment.At, y.Moment.At) })
	}
}

// Places lists what has a length in the book, in the order of a person: lines,
// then paths.
func (b Book) Places() []Place {
	out := make([]Place, 0, len(b.Lengths))
	for p := range b.Lengths {
		out = append(out, p)
	}
	slices.SortFunc(out, comparePlaces)
	return out
}

// Carried lists what a new job has to take in: every finding that is open or
// deferred, with its first date.
func (b Book) Carried() []job.Carried {
	var out []job.Carried
	for _, list := range [][]Entry{b.Open, b.Deferred} {
		for _, e := range list {
			out = append(out, e.Carried)
		}
	}
	slices.SortStableFunc(out, func(x, y job.Carried) int { return cmp.Compare(x.At, y.At) })
	return out
}
