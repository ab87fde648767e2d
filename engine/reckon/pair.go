package reckon

import (
	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

var pairSum = Sum{
	ID: "pair", Title: "Two lengths, one against the other",
	Purpose: "Do left and right, or old and new, agree? What both share, such as the tape, counts once.",
	Fields: append([]Field{
		{Name: "first", Ask: "Readings of the first, each measured from the start", Kind: KindReadings, Unit: "mm", Many: true},
		{Name: "second", Ask: "Readings of the second, measured the same way", Kind: KindReadings, Unit: "mm", Many: true},
	}, withFallback(objectFields, map[string]string{"limit": "5 mm", "state": "installed"})...),
	do: reckonPair,
}

// half is one of the two lengths.
type half struct {
	name    string
	rs      []metrology.Reading
	m       metrology.Measurement
	allowed quantity.Length
}

func reckonPair(r *reader) (Result, error) {
	t := r.thing(metrology.StateInstalled, wing.LimitTwin, fallbackTwinLimit)
	halves := []half{{name: "first"}, {name: "second"}}
	for i := range halves {
		h := &halves[i]
		h.rs = r.readings(h.name)
		if r.err != nil {
			return Result{}, r.err
		}
		var err error
		if h.m, h.allowed, err = r.measure(h.name, t.object, h.rs); err != nil {
			return Result{}, err
		}
	}
	d, err := metrology.Compare(halves[0].m, halves[1].m)
	if err != nil {
		return Result{}, refusal("", err)
	}
	j, err := d.Judge(t.limit.length)
	if err != nil {
		return Result{}, refusal("limit", err)
	}
	return Result{
		Rows: pairRows(t, d, j, halves, r.env.Bench),
		Why:  pairWhy(d, j, halves, r.env.Bench),
		JSON: struct {
			judgedJSON
			Difference budgetJSON   `json:"difference"`
			First      measuredJSON `json:"first"`
			Second     measuredJSON `json:"second"`
			benchJSON
		}{
			judged("pair", j, t.limit), budgetJSON{d.StandardMM, d.DoF, d.K, d.Terms, d.Rule},
			measurement(halves[0].m, halves[0].rs, halves[0].allowed), measurement(halves[1].m, halves[1].rs, halves[1].allowed),
			benchOf(r.env.Bench),
		},
		Answer: j.Verdict == metrology.Inside,
	}, nil
}

func pairRows(t measured, d metrology.Difference, j metrology.Judgement, halves []half, b metrology.Bench) []Row {
	rows := []Row{
		{"verdict", "the first is " + j.Words()},
		{"chance", j.Chance() + " that the true difference is inside the limit"},
		{"difference", d.Value.String() + ", sure within " + d.U.String() + ", first - second"},
	}
	for _, h := range halves {
		rows = append(rows, measuredRows(h.name, h.m, h.rs, h.allowed)...)
	}
	rows = append(rows, Row{"limit", t.limit.length.String() + " either way (" + t.limit.source + ")"})
	rows = append(rows, t.unknownRows(b)...)
	if j.Verdict == metrology.NotProved {
		rows = append(rows, Row{"to decide", "measure both again, on a better bench if it stays, or a person decides with a reason"})
	}
	return append(rows, benchRow(b), ruleRow(j))
}

func pairWhy(d metrology.Difference, j metrology.Judgement, halves []half, b metrology.Bench) []string {
	var out []string
	for _, h := range halves {
		out = append(append(out, "the "+h.name), correctionLines(h.m)...)
		out = append(append(out, ""), ofMeasurement(h.m, h.rs, b).lines()...)
		out = append(out, "")
	}
	minuend, other := bare(halves[0].m.Value), bare(halves[1].m.Value)
	out = append(out, "first - second", figure("difference "+minuend+" - "+other, bare(d.Value)+" mm"), "")
	out = append(append(out, ofDifference(d).lines()...), "")
	return append(out, judgeLines(j)...)
}
