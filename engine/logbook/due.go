package logbook

import (
	"fmt"
	"slices"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/wing"
)

// A new line is looked at again, and measured, after this flying time: it
// settles, and so do its knots and loops (common practice, no source).
const (
	recheckFrom job.Hours = 50 // tenths
	recheckTo   job.Hours = 100
)

// nearHours is how long before its limit a deferral is said to be near; one by
// date is within a month. It is a help to plan the work and no rule of anybody.
const nearHours job.Hours = 50

// Reach says how far something is from the time at which it is due.
type Reach string

// The reaches, the most pressing first.
const (
	Past    Reach = "past"      // later than it should have been
	Now     Reach = "now"       // within the time at which it should be done
	Unknown Reach = "not known" // it goes by hours, and they are not known
	Near    Reach = "near"
	Later   Reach = "later"
)

// Due is something that has to be looked at by a time.
type Due struct {
	Thing   wing.Ref   `json:"thing"`
	Finding string     `json:"finding,omitempty"` // ID, of a deferral; else a new line is looked at again
	Since   string     `json:"since"`             // when it was found or fitted
	Job     int        `json:"job"`               // whose word it is
	From    *job.Hours `json:"from_tenths,omitempty"`
	To      *job.Hours `json:"to_tenths,omitempty"` // flying hours of the wing
	Until   string     `json:"until,omitempty"`     // 2006-01-02
	Reach   Reach      `json:"reach"`
	Text    string     `json:"text"`
}

// due lists the deferrals that have run out or are near, and the new lines
// that were not looked at since. Of what goes by hours that are not known it
// says so.
func (b *Book) due() []Due {
	out := []Due{}
	for _, e := range b.Deferred {
		if e.RunOut != Later {
			out = append(out, b.dueDeferral(e))
		}
	}
	last := map[wing.Ref]FittedIn{}
	for _, f := range b.Fitted {
		if f.Thing.Kind == wing.KindLine {
			last[f.Thing] = f
		}
	}
	for _, f := range b.Fitted {
		if now, ok := last[f.Thing]; ok && now.Job == f.Job && now.Task == f.Task && !b.lookedSince(f) {
			out = append(out, b.dueRecheck(f))
		}
	}
	return out
}

// runOut says how far a deferral is.
func (b *Book) runOut(d *job.Deferral) Reach {
	if d.Over(b.Today, b.Hours.Now) {
		return Past
	}
	if d.Until != "" {
		if d.Until <= monthOn(b.Today) {
			return Near
		}
		return Later
	}
	if d.Base == nil || b.Hours.Now == nil || !b.Hours.Said {
		return Unknown
	}
	if *b.Hours.Now+nearHours >= *d.Base+d.Hours {
		return Near
	}
	return Later
}

// monthOn gives the same day of the next month, to compare dates with: it need
// not be a day of the calendar. "" where the date is none.
func monthOn(date string) string {
	var year, month, d int
	if _, err := fmt.Sscanf(date, "%4d-%2d-%2d", &year, &month, &d); err != nil {
		return ""
	}
	if month++; month > 12 {
		year, month = year+1, 1
	}
	return fmt.Sprintf("%04d-%02d-%02d", year, month, d)
}

func (b *Book) dueDeferral(e Entry) Due {
	d := Due{Thing: e.Thing, Finding: e.ID, Since: e.At, Job: e.Job, Until: e.Deferred.Until, Reach: e.RunOut}
	if e.Deferred.Until == "" && e.Deferred.Base != nil {
		to := *e.Deferred.Base + e.Deferred.Hours
		d.To = &to
	}
	d.Text = fmt.Sprintf("%s: %s, found %s, carried over until %s", e.Thing, e.Text, day(e.At), e.Deferred.Limit())
	switch e.RunOut {
	case Past:
		d.Text += ": that has run out"
	case Unknown:
		d.Text += "; " + b.unknownHours(e.Deferred.Base)
	}
	return d
}

// unknownHours says what is not known about a limit in hours.
func (b *Book) unknownHours(base *job.Hours) string {
	switch {
	case base == nil:
		return "the wing's hours were not known then, so nobody can tell whether that is over"
	case b.Hours.Now == nil:
		return "the wing's hours now are not known"
	}
	return fmt.Sprintf("the wing's hours now are not known; it had %s in job %d", b.Hours.Now, b.Hours.Job)
}

// lookedSince reports whether a line that was fitted was looked at or measured
// by a later job, after it had flown long enough as far as the hours tell.
func (b *Book) lookedSince(f FittedIn) bool {
	for _, p := range b.Jobs {
		if p.Job == f.Job || p.Begun < f.Moment.At {
			continue
		}
		if f.Hours != nil && p.Hours != nil && *p.Hours < *f.Hours+recheckFrom {
			continue
		}
		if p.looksAt(f) {
			return true
		}
	}
	return false
}

func (p Page) looksAt(f FittedIn) bool {
	for _, t := range p.Tasks {
		if t.Looked {
			return true
		}
	}
	for _, m := range p.Measured {
		if slices.ContainsFunc(m.Lengths, func(l Length) bool { return l.Of.measures(f) }) {
			return true
		}
	}
	return false
}

// measures reports whether a length tells of a line that was fitted.
func (p Place) measures(f FittedIn) bool {
	kind, point, side := p.parts()
	return p == LinePlace(f.Thing) || kind == pathState && side == string(f.Thing.Side) && slices.Contains(f.Points, point)
}

func (b *Book) dueRecheck(f FittedIn) Due {
	d := Due{Thing: f.Thing, Since: f.Moment.At, Job: f.Job, Reach: Unknown}
	d.Text = fmt.Sprintf("%s: new since %s; look at it and measure it again after 5 to 10 h (common practice, no source)", f.Thing, day(f.Moment.At))
	if f.Hours == nil {
		d.Text += "; the wing's hours were not known then"
		return d
	}
	from, to := *f.Hours+recheckFrom, *f.Hours+recheckTo
	d.From, d.To = &from, &to
	d.Text += fmt.Sprintf(": from %s on", from)
	now := b.Hours.Now
	switch {
	case now != nil && *now > to:
		d.Reach = Past
	case now != nil && *now >= from:
		d.Reach = Now
	case b.Hours.Said:
		d.Reach = Later
	default:
		d.Text += "; " + b.unknownHours(&from)
	}
	return d
}

// day is the date of a time.
func day(at string) string {
	const long = len("2006-01-02")
	return at[:min(len(at), long)]
}
