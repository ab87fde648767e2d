package trim

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/source"
	"example.org/linewright/engine/wing"
)

// LeastPath and GreatestPath hold a path's length that can be: from a short
// stub to the longest line with its riser.
const (
	LeastPath    = 50 * quantity.Millimetre
	GreatestPath = 30 * quantity.Metre
)

// mostFaults is how many faults of a sheet are listed.
const mostFaults = 100

// ReadCSV reads a sheet of path lengths after RFC 4180, with commas,
// semicolons or tabs between the fields and decimals with a point or a comma;
// name is how the sheet is called in faults. The first record names the
// columns, in any order: point, side, mm; or point, left, right, a column a
// side. A path may stand there again: that is another reading of it. An empty
// length is a path that was not measured. Lengths are mm, or as quantity reads
// them ("7.213 m").
//
// The error is a source.Faults with file, line, column, what and cure; no row
// is returned then.
func ReadCSV(plan *wing.Plan, name string, data []byte) ([]Row, error) {
	s := &sheet{plan: plan, name: name}
	s.read(data)
	if err := s.faults.Err(); err != nil {
		return nil, err
	}
	return s.rows, nil
}

// sheet is a sheet of lengths being read.
type sheet struct {
	plan    *wing.Plan
	name    string
	columns map[string]int
	rows    []Row
	faults  source.Faults
}

func (s *sheet) fault(line int, column, what, cure string) {
	if len(s.faults) == mostFaults {
		what, column, cure = "more faults follow", "", "mend these first"
	}
	if len(s.faults) <= mostFaults {
		s.faults = append(s.faults, source.Fault{File: s.name, Line: line, Key: column, What: what, Cure: cure})
	}
}

func (s *sheet) read(data []byte) {
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	switch {
	case len(data) > source.MaxBytes:
		s.fault(0, "", fmt.Sprintf("the sheet has %d bytes", len(data)), "split it: at most 1 MiB is read")
		return
	case !utf8.Valid(data):
		s.fault(0, "", "the sheet is not UTF-8 text", "save it again as UTF-8")
		return
	}
	r := csv.NewReader(bytes.NewReader(data))
	r.Comma = separator(data)
	r.FieldsPerRecord = -1
	r.ReuseRecord = true
	for {
		record, err := r.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			s.broken(err)
			return
		}
		line, _ := r.FieldPos(0)
		if s.columns == nil {
			if !s.header(line, record) {
				return
			}
			continue
		}
		s.record(line, record)
	}
	if s.columns == nil {
		s.fault(0, "", "the sheet is empty", "begin it with a line that names the columns: point, side, mm")
	} else if len(s.rows) == 0 && len(s.faults) == 0 {
		s.fault(0, "", "the sheet holds no length", "write one line for each path below the names of the columns")
	}
}

// separator is the sign that stands most often in the first line.
func separator(data []byte) rune {
	first, _, _ := bytes.Cut(data, []byte("\n"))
	best := ','
	for _, sign := range []rune{';', '\t'} {
		if bytes.Count(first, []byte(string(sign))) > bytes.Count(first, []byte(string(best))) {
			best = sign
		}
	}
	return best
}

func (s *sheet) broken(err error) {
	var parse *csv.ParseError
	if errors.As(err, &parse) {
		s.fault(parse.StartLine, "", "the quotation marks do not match", `put a field that holds a separator or a mark in "...", and write a mark in it twice`)
		return
	}
	s.fault(0, "", err.Error(), "save the sheet again as CSV")
}

const headerCure = "name the columns point, side, mm; or point, left, right"

// header takes the names of the columns. It reports whether they make a sheet.
func (s *sheet) header(line int, record []string) bool {
	s.columns = map[string]int{}
	for i, field := range record {
		column := strings.ToLower(strings.TrimSpace(field))
		switch _, twice := s.columns[column]; {
		case twice:
			s.fault(line, column, "the column is there twice", headerCure)
		case column != "point" && column != "side" && column != "mm" && column != "left" && column != "right":
			s.fault(line, "", fmt.Sprintf("no column is called %q", field), headerCure)
		}
		s.columns[column] = i
	}
	if len(s.faults) == 0 && !s.has("point", "side", "mm") && !s.has("point", "left", "right") {
		s.fault(line, "", "the columns do not make a sheet", headerCure)
	}
	return len(s.faults) == 0
}

// has says whether these are the columns, and no others.
func (s *sheet) has(columns ...string) bool {
	for _, c := range columns {
		if _, ok := s.columns[c]; !ok {
			return false
		}
	}
	return len(s.columns) == len(columns)
}

func (s *sheet) record(line int, record []string) {
	if len(record) != len(s.columns) {
		s.fault(line, "", fmt.Sprintf("%s instead of %d", plural(len(record), "field"), len(s.columns)),
			"give one field for each column; with decimal commas separate them by semicolons")
		return
	}
	field := func(column string) string { return strings.TrimSpace(record[s.columns[column]]) }
	point := field("point")
	if _, ok := pathOf(s.plan, PathRef{point, wing.Left}); !ok {
		s.fault(line, "point", fmt.Sprintf("there is no attachment point %q in the plan", point), "give a point of the plan, such as C7; upper and lower case differ")
		return
	}
	if _, long := s.columns["mm"]; !long {
		s.length(line, "left", PathRef{point, wing.Left}, field("left"))
		s.length(line, "right", PathRef{point, wing.Right}, field("right"))
		return
	}
	side, ok := sideOf(field("side"))
	if !ok {
		s.fault(line, "side", fmt.Sprintf("%q is no side", field("side")), "write left or right, as the pilot sits")
		return
	}
	s.length(line, "mm", PathRef{point, side}, field("mm"))
}

func sideOf(text string) (wing.Side, bool) {
	switch strings.ToLower(text) {
	case "left", "l":
		return wing.Left, true
	case "right", "r":
		return wing.Right, true
	}
	return "", false
}

// length takes one length; none where the field is empty.
func (s *sheet) length(line int, column string, ref PathRef, text string) {
	if text == "" {
		return
	}
	value, err := quantity.ParseLength(text)
	if err != nil {
		cure := "type one number such as 7213.5"
		var parse *quantity.ParseError
		if errors.As(err, &parse) {
			cure = parse.Cure()
		}
		s.fault(line, column, err.Error(), cure)
		return
	}
	if value < LeastPath || value > GreatestPath {
		s.fault(line, column, fmt.Sprintf("a path of %s cannot be", value), fmt.Sprintf("give %s to %s, in mm or with the unit", LeastPath, GreatestPath))
		return
	}
	s.rows = append(s.rows, Row{ref, metrology.Reading{Typed: text, Value: value}})
}
