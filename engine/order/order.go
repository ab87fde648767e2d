// Package order writes the order list of a job for whoever makes the parts: as
// a text to read aloud, and as CSV (RFC 4180). It decides nothing: what stands
// on the list, and how far it is, the job says.
package order

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math/big"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/source"
)

// List is what is ordered for one wing.
type List struct {
	Wing   string `json:"wing"`
	Serial string `json:"serial,omitempty"`
	Plan   string `json:"plan"` // model as the plan names it
	Size   string `json:"size"`
	Source string `json:"source"` // of the plan
	Job    int    `json:"job"`
	Items  []Item `json:"items"`
	Sums   []Sum  `json:"sums"` // of the prices that are known, by currency
	// Unpriced counts the parts without a price that can be added up.
	Unpriced int `json:"unpriced"`
}

// Item is one part.
type Item struct {
	No    int    `json:"no"`
	State string `json:"state"`
	Name  string `json:"part"` // for a person
	Code  string `json:"code,omitempty"`
	Side  string `json:"side,omitempty"`
	job.Part
}

// Sum is an amount of money in one currency, exact, as it was written.
type Sum struct {
	Currency string `json:"currency"`
	Amount   string `json:"amount"`
}

// Of gives the order list of a job, without what is no longer wanted.
func Of(j *job.Job) List {
	l := List{
		Wing: j.Start.WingName, Serial: j.Start.Serial, Plan: j.Plan.Name, Size: j.Plan.Size,
		Source: j.Plan.Source.Text, Job: j.Start.Job, Items: []Item{}, Sums: []Sum{},
	}
	for _, p := range j.Parts() {
		if s := j.PartState(p); s != job.PartGone {
			l.Items = append(l.Items, Item{p.No, string(s), p.Thing.String(), p.Thing.Code, string(p.Thing.Side), p.Part})
		}
	}
	l.add()
	return l
}

var price = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^([0-9]+(?:[.,][0-9]{1,3})?)\s*([A-Za-z€$£]{1,8})$`)
})

// add sums the prices up, each currency by itself.
func (l *List) add() {
	sums := map[string]*big.Rat{}
	for _, it := range l.Items {
		m := price().FindStringSubmatch(strings.TrimSpace(it.Price))
		if m == nil {
			l.Unpriced++
			continue
		}
		amount, _ := new(big.Rat).SetString(strings.Replace(m[1], ",", ".", 1))
		if sums[m[2]] == nil {
			sums[m[2]] = new(big.Rat)
		}
		sums[m[2]].Add(sums[m[2]], amount.Mul(amount, big.NewRat(int64(it.Count), 1)))
	}
	for currency, amount := range sums {
		l.Sums = append(l.Sums, Sum{currency, amount.FloatString(2)})
	}
	slices.SortFunc(l.Sums, func(a, b Sum) int { return strings.Compare(a.Currency, b.Currency) })
}

var columns = []string{
	"part_no", "wing", "plan", "size", "serial", "part", "code", "side", "count", "length_mm", "length_source",
	"material", "diameter_mm", "loops", "for", "price", "note", "state",
}

// CSV writes the list by RFC 4180: a line of titles, commas, CRLF, UTF-8. A
// field that a spreadsheet would take for a formula gets a space before it.
func (l List) CSV() []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	rows := [][]string{columns}
	for _, it := range l.Items {
		rows = append(rows, []string{
			strconv.Itoa(it.No), l.Wing, l.Plan, l.Size, l.Serial, it.Name, it.Code, it.Side, strconv.Itoa(it.Count), mm(int64(it.Length)), it.LengthOf,
			it.Material, mm(int64(it.Diameter)), it.Loops, it.Why, it.Price, it.Note, it.State,
		})
	}
	for _, row := range rows {
		for i, cell := range row {
			row[i] = harmless(cell)
		}
		_ = w.Write(row) // into memory
	}
	w.Flush()
	return b.Bytes()
}

func harmless(cell string) string {
	cell = source.Clean(cell)
	if cell != "" && strings.ContainsRune("=+-@\t", rune(cell[0])) {
		return " " + cell
	}
	return cell
}

// mm writes whole micrometres in mm, "" for none.
func mm(um int64) string {
	if um == 0 {
		return ""
	}
	return strconv.FormatFloat(float64(um)/1000, 'f', -1, 64)
}

// Text writes the list for a person, one fact a line: what can be read aloud
// on the telephone. Codes stand letter by letter, since case counts.
func (l List) Text() string {
	var b strings.Builder
	say := func(format string, args ...any) {
		b.WriteString(strings.TrimRight(source.Clean(fmt.Sprintf(format, args...)), " ") + "\n")
	}
	say("ORDER LIST")
	say("Wing: %s, size %s. Serial number: %s.", l.Plan, l.Size, orNone(l.Serial))
	say("Our name for it: %s, job %d.", l.Wing, l.Job)
	say("Line plan: %s.", l.Source)
	if len(l.Items) == 0 {
		say("Nothing is on the list.")
	}
	for _, it := range l.Items {
		b.WriteByte('\n')
		say("%d. %d x %s (%s)", it.No, it.Count, it.Name, it.State)
		if it.Code != "" {
			say("   code, letter by letter: %s", spelled(it.Code))
		}
		if it.Length > 0 {
			say("   length: %s, %s", it.Length, it.LengthOf)
		}
		for _, row := range [][2]string{{"material", it.Material}, {"loops", it.Loops}, {"for", it.Why}, {"price", it.Price}, {"note", it.Note}} {
			if row[1] != "" {
				say("   %s: %s", row[0], row[1])
			}
		}
		if it.Diameter > 0 {
			say("   thickness: %s", it.Diameter)
		}
	}
	b.WriteByte('\n')
	for _, s := range l.Sums {
		say("Sum: %s %s.", s.Amount, s.Currency)
	}
	if l.Unpriced > 0 {
		say("Without a price: %d.", l.Unpriced)
	}
	say("Each part has to bear its code, and is looked at before a link is opened for it.")
	return b.String()
}

func orNone(text string) string {
	if text == "" {
		return "not known"
	}
	return text
}

// spelled writes a code so that case and signs can be heard: "capital C, 1,
// dot, 2".
func spelled(code string) string {
	var out []string
	for _, r := range code {
		switch {
		case r >= 'A' && r <= 'Z':
			out = append(out, "capital "+string(r))
		case r >= 'a' && r <= 'z':
			out = append(out, "small "+string(r))
		case r == '.':
			out = append(out, "dot")
		case r == '-':
			out = append(out, "dash")
		default:
			out = append(out, string(r))
		}
	}
	return strings.Join(out, ", ")
}
