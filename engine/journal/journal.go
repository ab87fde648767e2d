package journal

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

const (
	// Edition is the edition of the format that this package writes and reads.
	Edition = 1
	// MaxEvent is the greatest size of one event in bytes.
	MaxEvent = 256 << 10
	// MaxFile is the greatest size of a journal in bytes.
	MaxFile = 64 << 20

	// maxFrame is more than the fields before an event can take.
	maxFrame = 256
)

// ZeroHash stands for the line before the first one.
var ZeroHash = strings.Repeat("0", 2*sha256.Size)

// Head names the last line of a journal: its number and its hash. An empty
// journal has number 0 and ZeroHash.
type Head struct {
	N    int
	Hash string // SHA-256 of the line without its newline, 64 hex digits
}

// EmptyHead is the head of a journal without a line.
func EmptyHead() Head { return Head{Hash: ZeroHash} }

// Line is one line of a journal.
type Line struct {
	N     int             // from 1
	Prev  string          // hash of the line before
	Hash  string          // SHA-256 of Raw, 64 hex digits
	Event json.RawMessage // one compact JSON object
	Raw   []byte          // the line as it stands in the file, without its newline
}

// Head returns the head of a journal that ends with this line.
func (l Line) Head() Head { return Head{N: l.N, Hash: l.Hash} }

// DamageError says that a complete line is not what the format demands.
type DamageError struct {
	Line int    // number of the line, from 1
	What string // one clause, without control characters
}

func (e *DamageError) Error() string {
	return fmt.Sprintf("journal line %d is damaged: %s\n"+
		"leave the file as it is, take a copy of it, and go on from your last good copy", e.Line, e.What)
}

// EditionError says that the journal was written in a format that this program
// does not know.
type EditionError struct{ Edition int64 }

func (e *EditionError) Error() string {
	return fmt.Sprintf("the journal has edition %d, this program reads edition %d\n"+
		"open it with the newer linewright that wrote it", e.Edition, Edition)
}

// EventError says why an event cannot become a line. Nothing was written.
type EventError struct{ What string }

func (e *EventError) Error() string {
	return "the entry cannot be written to the journal: " + e.What + "\n" +
		"nothing was written; change the entry and try again"
}

// Encode makes the line that carries event and follows head. It returns an
// *EventError when event is not one compact JSON object as the format demands.
func Encode(head Head, event json.RawMessage) (Line, error) {
	if what := checkEvent(event); what != "" {
		return Line{}, &EventError{What: what}
	}
	raw := append(frame(head), event...)
	raw = append(raw, '}')
	return newLine(head, raw, len(raw)-1-len(event)), nil
}

// Parse splits data into lines and checks each of them and the chain. Bytes
// after the last newline are the torn line; they are returned as they are and
// not looked into. On damage it returns a *DamageError, on a format that it does
// not know an *EditionError, and then nothing else. The lines point into data.
func Parse(data []byte) (lines []Line, torn []byte, err error) {
	head := EmptyHead()
	for {
		end := bytes.IndexByte(data, '\n')
		if end < 0 {
			break
		}
		line, err := decode(head, data[:end:end])
		if err != nil {
			return nil, nil, err
		}
		lines = append(lines, line)
		head = line.Head()
		data = data[end+1:]
	}
	if len(data) > 0 {
		torn = data
	}
	return lines, torn, nil
}

// Join puts lines together as they stand in the file.
func Join(lines []Line) []byte {
	var data []byte
	for _, l := range lines {
		data = append(data, l.Raw...)
		data = append(data, '\n')
	}
	return data
}

// frame returns what stands before the event on the line that follows head.
func frame(head Head) []byte {
	b := make([]byte, 0, maxFrame)
	b = append(b, '{')
	if head.N == 0 {
		b = append(b, `"linewright_journal":`...)
		b = strconv.AppendInt(b, Edition, 10)
		b = append(b, ',')
	}
	b = append(b, `"n":`...)
	b = strconv.AppendInt(b, int64(head.N)+1, 10)
	b = append(b, `,"prev":"`...)
	b = append(b, head.Hash...)
	return append(b, `","event":`...)
}

func newLine(head Head, raw []byte, eventAt int) Line {
	sum := sha256.Sum256(raw)
	end := len(raw) - 1
	return Line{
		N:     head.N + 1,
		Prev:  head.Hash,
		Hash:  hex.EncodeToString(sum[:]),
		Event: raw[eventAt:end:end],
		Raw:   raw,
	}
}

// decode takes the one spelling that Encode gives. What stands before the event
// follows from the head, so it is compared byte for byte and not parsed.
func decode(head Head, raw []byte) (Line, error) {
	damage := func(what string) (Line, error) {
		return Line{}, &DamageError{Line: head.N + 1, What: what}
	}
	if len(raw) > maxFrame+MaxEvent {
		return damage(fmt.Sprintf("it has %d bytes, more than a line can have", len(raw)))
	}
	event, ok := bytes.CutPrefix(raw, frame(head))
	if !ok {
		return Line{}, diagnose(head, raw)
	}
	event, ok = bytes.CutSuffix(event, []byte("}"))
	if !ok {
		return damage("it does not end with a closing brace")
	}
	if what := checkEvent(event); what != "" {
		return damage(what)
	}
	return newLine(head, raw, len(raw)-1-len(event)), nil
}

// diagnose finds words for a line whose beginning is not the expected one.
func diagnose(head Head, raw []byte) error {
	damage := &DamageError{Line: head.N + 1}
	var got struct {
		Edition *int64  `json:"linewright_journal"`
		N       *int64  `json:"n"`
		Prev    *string `json:"prev"`
	}
	err := json.Unmarshal(raw, &got)
	switch {
	case err != nil:
		damage.What = "it is not a JSON object with the fields of a journal line"
	case head.N == 0 && got.Edition == nil:
		damage.What = "the first line does not state the edition (linewright_journal)"
	case head.N == 0 && *got.Edition != Edition:
		return &EditionError{Edition: *got.Edition}
	case got.N == nil || *got.N != int64(head.N)+1:
		damage.What = "its number does not follow the line before: a line is missing, doubled or moved"
	case got.Prev == nil || *got.Prev != head.Hash:
		damage.What = fmt.Sprintf("it does not carry the hash of line %d: this line or that one was changed", head.N)
		if head.N == 0 {
			damage.What = "the first line does not carry the zero hash"
		}
	default:
		damage.What = "its fields are not spelled or ordered as the format demands"
	}
	return damage
}

// checkEvent returns what is wrong with an event, or nothing.
func checkEvent(event []byte) string {
	if len(event) > MaxEvent {
		return fmt.Sprintf("the event has %d bytes, at most %d are allowed", len(event), MaxEvent)
	}
	if !utf8.Valid(event) {
		return "the event is not valid UTF-8"
	}
	for _, r := range string(event) {
		if unicode.IsControl(r) || r == '\u2028' || r == '\u2029' {
			return fmt.Sprintf("the event holds the control character %U unescaped", r)
		}
	}
	if len(event) == 0 || event[0] != '{' {
		return "the event is not a JSON object"
	}
	compact := bytes.NewBuffer(make([]byte, 0, len(event)))
	if err := json.Compact(compact, event); err != nil {
		return "the event is not valid JSON"
	}
	if !bytes.Equal(compact.Bytes(), event) {
		return "the event has space between its parts"
	}
	return ""
}
