// Package source reads TOML files strictly and knows on which line each key
// stands, so that every fault can name file, line, key and cure.
//
// The TOML library parses; binding to structs is done here because its own
// binding matches keys without regard to case, takes nan and inf, reports
// only the first mistake, and gives no position for a value of the wrong
// type. A file that a person wrote by hand deserves all its faults at once.
package source

import (
	"bytes"
	"errors"
	"fmt"
	"sort"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"
)

// MaxBytes is the largest file that is read.
const MaxBytes = 1 << 20

// Fault is one thing wrong in a file.
type Fault struct {
	File string // as the caller named it
	Line int    // from 1; 0 where no line can be named
	Key  string // dotted, tables of an array counted from 0: line[3].length_mm
	What string // one line
	Cure string // one line
}

// Error gives file, line, key and what on one line, the cure on the next.
func (f Fault) Error() string {
	place := f.File
	if f.Line > 0 {
		place = fmt.Sprintf("%s:%d", f.File, f.Line)
	}
	if f.Key != "" {
		place += ": " + f.Key
	}
	return Clean(place + ": " + f.What + "\n  " + f.Cure)
}

// Faults is every fault of a file, in order of line.
type Faults []Fault

// Error joins the faults, one below the other.
func (fs Faults) Error() string {
	all := make([]string, len(fs))
	for i, f := range fs {
		all[i] = f.Error()
	}
	return strings.Join(all, "\n")
}

// Err gives the faults as an error, or nil where there are none.
func (fs Faults) Err() error {
	if len(fs) == 0 {
		return nil
	}
	sort.SliceStable(fs, func(i, j int) bool { return fs[i].Line < fs[j].Line })
	return fs
}

// Doc knows where the keys of one file stand.
type Doc struct {
	File   string
	Faults Faults
	Unread bool // nothing was bound: the file is no TOML, or too large to try

	lines map[string]int
}

// Decode parses data and binds it to into, a pointer to a struct with toml
// tags. Every fault found is in the Doc; into holds what could be read, so
// that a caller can go on looking for faults of its own.
func Decode(file string, data []byte, into any) *Doc {
	d := &Doc{File: file, Unread: true}
	if len(data) > MaxBytes {
		d.Add("", fmt.Sprintf("the file has %d bytes", len(data)), "split it: at most 1 MiB is read")
		return d
	}
	if !utf8.Valid(data) {
		d.Add("", "the file is not UTF-8 text", "save it again as UTF-8")
		return d
	}
	if d.tooWide(data) {
		return d
	}
	d.lines = index(string(data))
	tree := map[string]any{}
	if _, err := toml.Decode(string(data), &tree); err != nil {
		d.syntax(err)
		return d
	}
	d.Unread = false
	d.bind(tree, into)
	return d
}

func (d *Doc) syntax(err error) {
	f := Fault{File: d.File, What: "this is not TOML: " + strings.TrimPrefix(err.Error(), "toml: "),
		Cure: "mend the line; the form is described at toml.io"}
	var pe toml.ParseError
	if errors.As(err, &pe) {
		f.Line, f.Key, f.What = pe.Position.Line, pe.LastKey, "this is not TOML: "+pe.Message
	}
	d.Faults = append(d.Faults, f)
}

// A line of text has at most so many bytes and points: hostile nested keys
// would keep the TOML parser busy for minutes.
const (
	maxWidth  = 2048
	maxPoints = 40
)

func (d *Doc) tooWide(data []byte) bool {
	no := 0
	for line := range bytes.SplitSeq(data, []byte("\n")) {
		no++
		found, most := "", 0
		if len(line) > maxWidth {
			found, most = fmt.Sprintf("%d bytes", len(line)), maxWidth
		} else if n := bytes.Count(line, []byte(".")); n > maxPoints {
			found, most = fmt.Sprintf("%d points", n), maxPoints
		}
		if found != "" {
			d.Faults = append(d.Faults, Fault{File: d.File, Line: no, What: "this line of text has " + found,
				Cure: fmt.Sprintf("break it up: at most %d are read", most)})
			return true
		}
	}
	return false
}

// Add notes a fault at a key.
func (d *Doc) Add(key, what, cure string) {
	d.Faults = append(d.Faults, Fault{File: d.File, Line: d.Line(key), Key: key, What: what, Cure: cure})
}

// Line gives the line of a key, or of the nearest table around it; 0 if none.
func (d *Doc) Line(key string) int {
	for key != "" {
		if n, ok := d.lines[key]; ok {
			return n
		}
		cut := strings.LastIndexAny(key, ".[")
		if cut < 0 {
			return 0
		}
		key = key[:cut]
	}
	return 0
}

// Clean makes text fit for a terminal: control characters, and the marks that
// turn the direction of writing, become visible escapes. Line ends stay.
func Clean(s string) string {
	var b strings.Builder
	for _, r := range s {
		if r != '\n' && Hidden(r) {
			fmt.Fprintf(&b, "\\u%04x", r)
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}

// Hidden reports whether a rune is a control character, is no character, or
// changes how the text around it is shown.
func Hidden(r rune) bool {
	switch {
	case r < 0x20, r >= 0x7f && r < 0xa0, r == utf8.RuneError:
		return true
	case r >= 0x200b && r <= 0x200f, r >= 0x2028 && r <= 0x202e, r >= 0x2060 && r <= 0x2069, r == 0xfeff:
		return true
	}
	return false
}
