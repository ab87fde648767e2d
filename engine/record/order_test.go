package record

import (
	"bytes"
	"testing"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/wing"
)

// linkReading reads the order of a link against the plan.
const linkReading = `
linewright_procedure = 1
id = "link-reading"
edition = "1"
title.en = "Reading of a link, for tests"
source = "written for a test"
target = "line"
[[phase]]
id = "reading"
title.en = "Reading"
[[phase.card]]
id = "reading"
action.en = "READ THE LINK"
reason.en = "Two crossed lines show only in the air."
[[phase.card.step]]
id = "order"
kind = "order"
ask.en = "Lines on the link, centre first"
same_as = "link.order"
else.en = "Read it again."
`

// From which side a link was seen stands in the record where it was asked for,
// both where the order was turned round and where it was crossed indeed.
func TestTheRecordSaysFromWhichSideALinkWasSeen(t *testing.T) {
	w := newWalk(t, false)
	w.enter(job.Entry{Kind: job.EnterAdd, Text: "looked at", Add: &job.Add{
		Procedure: "link-reading", Edition: "1", SHA256: w.files.pin([]byte(linkReading)), Target: wing.LineRef("C1", wing.Left),
	}})
	for _, from := range []job.SeenFrom{job.SeenAsAsked, job.SeenOtherSide} {
		w.enter(job.Entry{Kind: job.EnterAnswer, Task: 1, Text: "c3 C2 C1", SeenFrom: from})
	}
	w.enter(job.Entry{Kind: job.EnterClose, Text: "read"})
	r := w.build()
	wantAll(t, flat(r.Text),
		"Lines on the link, centre first: C1 C2 c3, seen from the other side of the link and turned round",
		"c3 C2 C1, seen from the side that the step asks for; not as in the plan: C1 with C2, C1 with c3, C2 with c3")
	for _, part := range []string{`"typed":"c3 C2 C1"`, `"codes":["C1","C2","c3"]`} {
		if !bytes.Contains(r.JSON, []byte(part)) {
			t.Errorf("%s is not in record.json", part)
		}
	}
}
