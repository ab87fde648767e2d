package tui

// empty is the first page of a store without a job: what the program is for,
// what it is not, and the first thing to do.
func (p *homePage) empty(m *model, w, rows int) []string {
	head, says := p.firstRun(m)
	if p.wings > 0 {
		head, says = p.firstJob(m)
	}
	n, notes := notice{head: head, says: says}, p.notes(m, w)
	return append(n.lines(m, w, rows-len(notes)), notes...)
}

// cautionOfAll stands wherever somebody sees the program for the first time.
const cautionOfAll = "A mistake on a line can kill: if nobody showed you this work, have it done. " +
	"The wing's manual, local rules and licensed practice decide, never this program."

func (p *homePage) firstRun(m *model) (string, []saying) {
	return "NOTHING IS HERE YET", []saying{
		{"Caution", cautionOfAll},
		{"For", "Step by step through repairs on the lines of a soft wing, with a signed record of what was done and measured."},
		{saysNow, "Leave with ctrl+c and see how a job goes, on an invented wing:\n   linewright demo"},
		{saysThen, "Add your own wing with its line plan, and make a key to sign with:\n   " + m.desk.Command("wing add ID FILE") + "\n   " + m.desk.Command("signer new "+plain(m.desk.Who))},
		{"Kept", "All is kept in " + m.desk.Store.Dir()},
	}
}

func (p *homePage) firstJob(m *model) (string, []saying) {
	says := []saying{
		{"Caution", cautionOfAll},
		{saysNow, count(p.wings, "wing") + " here. Enter starts the first job: you choose wing, procedure and line, and nothing is written before you say so."},
		{"Kept", "All is kept in " + m.desk.Store.Dir()},
	}
	return "NO JOB YET", says
}

// othersOffered is what goes on in spite of faults.
const othersOffered = "The procedures without a fault are offered as before, and so is every job that was begun."

// notes stand below the list: what is not offered, and what will be missed
// later.
func (p *homePage) notes(m *model, w int) []string {
	var out []string
	if n := len(p.faults); n > 0 {
		out = append(out, "")
		out = append(out, wrap("Some procedures have faults and are not offered; the others are. f: see "+count(n, "fault")+".", w)...)
	}
	if p.wings > 0 && !p.keyed && m.opt.Demo == nil {
		out = append(out, "")
		out = append(out, wrap("No key of "+plain(m.desk.Who)+" is here: a job can begin, and waits at the first signature. Make one: "+m.desk.Command("signer new "+plain(m.desk.Who)), w)...)
	}
	return out
}
