package journal

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
)

// firstWindow is how much of the end of a journal is read first: more than most
// lines have.
const firstWindow = 4 << 10

// Tail returns the head of the journal in r, which has size bytes, from its end
// alone: that of the last complete line, a torn one behind it is left out. The
// last line is checked, the chain before it is not. Where the end is not what a
// journal ends with, the whole is read and Parse has the say.
func Tail(r io.ReaderAt, size int64) (Head, error) {
	if size > MaxFile {
		return Head{}, fmt.Errorf("the journal has %d bytes, at most %d are read\n"+
			"see whether this is the right file", size, MaxFile)
	}
	for window := int64(firstWindow); window < size; window *= 8 {
		data, err := readEnd(r, size, window)
		if err != nil {
			return Head{}, err
		}
		raw, ok := lastLine(data)
		if !ok {
			continue
		}
		if head, ok := headOf(raw); ok {
			return head, nil
		}
		break
	}
	data, err := readEnd(r, size, size)
	if err != nil {
		return Head{}, err
	}
	lines, _, err := Parse(data)
	if err != nil {
		return Head{}, err
	}
	if len(lines) == 0 {
		return EmptyHead(), nil
	}
	return lines[len(lines)-1].Head(), nil
}

func readEnd(r io.ReaderAt, size, window int64) ([]byte, error) {
	data := make([]byte, window)
	if n, err := r.ReadAt(data, size-window); int64(n) < window {
		return nil, fmt.Errorf("the journal cannot be read: %w\nsee to the disk and look at the job again", err)
	}
	return data, nil
}

// lastLine returns what stands between the last two newlines.
func lastLine(data []byte) ([]byte, bool) {
	end := bytes.LastIndexByte(data, '\n')
	if end < 0 {
		return nil, false
	}
	before := bytes.LastIndexByte(data[:end], '\n')
	return data[before+1 : end], before >= 0
}

// headOf returns the head that a line behind another one gives, if that line is
// spelled as Encode spells it.
func headOf(raw []byte) (Head, bool) {
	var got struct {
		N     int             `json:"n"`
		Prev  string          `json:"prev"`
		Event json.RawMessage `json:"event"`
	}
	if json.Unmarshal(raw, &got) != nil || got.N < 2 || !isHash(got.Prev) {
		return Head{}, false
	}
	line, err := Encode(Head{N: got.N - 1, Hash: got.Prev}, got.Event)
	if err != nil || !bytes.Equal(line.Raw, raw) {
		return Head{}, false
	}
	return line.Head(), true
}

func isHash(s string) bool {
	for _, c := range []byte(s) {
		if (c < '0' || c > '9') && (c < 'a' || c > 'f') {
			return false
		}
	}
	return len(s) == len(ZeroHash)
}
