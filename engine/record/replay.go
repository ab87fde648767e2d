package record

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/journal"
)

// More than any job needs: a journal of a stranger must not keep the program
// busy for hours.
const (
	maxLines = 100_000
	maxTasks = 1000
)

// replayed is a closed job with every line that made it.
type replayed struct {
	job    *job.Job
	lines  []journal.Line
	events []*job.Event // events[i] stands on line i+1
	pins   *checkedPins
}

// watcher sees each event before it is applied.
type watcher func(j *job.Job, at journal.Line, e *job.Event)

// replay folds a closed job's journal. Apply judges nothing, and this takes
// journals of strangers, so each event is looked at first.
func replay(lines []journal.Line, pins job.Pins, watch watcher) (*replayed, error) {
	if len(lines) > maxLines {
		return nil, &Error{What: fmt.Sprintf("the journal has %d lines, at most %d are read", len(lines), maxLines), Do: "see whether it is the journal of one job"}
	}
	r := &replayed{lines: lines, pins: &checkedPins{from: pins, bytes: map[string][]byte{}}}
	r.job = job.New(r.pins)
	for _, l := range lines {
		e, err := decode(l)
		if err != nil {
			return nil, err
		}
		if watch != nil {
			watch(r.job, l, e)
		}
		if e.Kind == job.Added && len(r.job.Tasks) == maxTasks {
			return nil, &Error{What: fmt.Sprintf("the job has more than %d tasks", maxTasks), Do: "see whether it is the journal of one job"}
		}
		if err := r.job.Apply(*e); err != nil {
			return nil, &Error{What: fmt.Sprintf("line %d of the journal does not fit the lines before it: %s", l.N, firstLine(errors.Unwrap(err))),
				Do: "take the job from a backup or another export", Err: err}
		}
	}
	if r.job.Closed == nil {
		return nil, NotClosed
	}
	r.events = r.job.Events()
	return r, nil
}

func decode(l journal.Line) (*job.Event, error) {
	e, err := job.Decode(l.Event)
	if err != nil {
		return nil, &Error{What: fmt.Sprintf("line %d of the journal %s", l.N, err), Do: "take the job from a backup or another export"}
	}
	return &e, nil
}

// checkedPins keeps what a job pinned and believes no file but by its hash.
type checkedPins struct {
	from  job.Pins
	bytes map[string][]byte
}

// Pinned gives the bytes that have a SHA-256.
func (p *checkedPins) Pinned(sha string) ([]byte, error) {
	if data, ok := p.bytes[sha]; ok {
		return data, nil
	}
	data, err := p.from.Pinned(sha)
	if err != nil {
		return nil, err
	}
	if hashOf(data) != sha {
		return nil, errors.New("a plan or procedure was changed after the job used it")
	}
	p.bytes[sha] = data
	return data, nil
}

func hashOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

func firstLine(err error) string {
	line, _, _ := bytes.Cut([]byte(err.Error()), []byte("\n"))
	return string(line)
}
