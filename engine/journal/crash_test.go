package journal

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// work is one sitting: open, append, close. It returns what was acknowledged,
// what was tried, and the first error.
func work(fsys FS, events []string) (acked, tried []string, err error) {
	l, _, err := Open(fsys, name)
	if err != nil {
		return nil, nil, err
	}
	for _, e := range events {
		tried = append(tried, e)
		if _, err := l.Append(l.Head(), json.RawMessage(e)); err != nil {
			if _, second := l.Append(l.Head(), json.RawMessage(e)); !errors.Is(second, ErrStopped) {
				return acked, tried, fmt.Errorf("after a failure the log went on: %w", second)
			}
			_ = l.Close()
			return acked, tried, err
		}
		acked = append(acked, e)
	}
	return acked, tried, l.Close()
}

// found opens the journal on a disk that works and returns its events.
func found(t testing.TB, d *disk) []string {
	t.Helper()
	d.fail = nil
	l, _ := mustOpen(t, d)
	var got []string
	for _, line := range l.Lines() {
		got = append(got, string(line.Event))
	}
	return got
}

// checkKept says whether got is what had to be kept, and after it at most one
// line that was tried and not acknowledged.
func checkKept(got, acked, tried []string) error {
	if len(got) < len(acked) {
		return fmt.Errorf("%d lines found, %d acknowledged", len(got), len(acked))
	}
	if len(got) > len(acked)+1 || len(got) > len(tried) {
		return fmt.Errorf("%d lines found, %d acknowledged, %d tried", len(got), len(acked), len(tried))
	}
	for i := range got {
		if got[i] != tried[i] {
			return fmt.Errorf("line %d is %s, want %s", i+1, got[i], tried[i])
		}
	}
	return nil
}

// Each operation of a sitting fails in turn, alone or with all that follow it;
// the file has a torn end to begin with.
func TestEachOperationFailsInTurn(t *testing.T) {
	const torn = `{"n":3,"pre`
	for _, forGood := range []bool{false, true} {
		for n := 1; ; n++ {
			d := withFile(name, append(Join(chain(t, events[:2]...)), torn...))
			d.fail = func(op int) bool { return op == n || forGood && op > n }
			acked, tried, err := work(d, events[2:])
			acked, tried = slices.Concat(events[:2], acked), slices.Concat(events[:2], tried)
			where := fmt.Sprintf("operation %d, for good %v", n, forGood)
			if err != nil && !errors.Is(err, errDisk) {
				t.Fatalf("%s: %v", where, err)
			}
			d.fail = nil
			for seed := range uint64(20) {
				after := d.crash(rand.New(rand.NewPCG(uint64(n), seed)))
				checkTornKept(t, fmt.Sprintf("%s, seed %d", where, seed), after, torn)
				if err := checkKept(found(t, after), acked, tried); err != nil {
					t.Errorf("%s, seed %d: %v", where, seed, err)
				}
			}
			checkTornKept(t, where+", no crash", d, torn)
			if err := checkKept(found(t, d), acked, tried); err != nil {
				t.Errorf("%s, no crash: %v", where, err)
			}
			if err == nil {
				if len(acked) != len(events) {
					t.Errorf("%s: no error, and yet only %d lines acknowledged", where, len(acked))
				}
				if d.ops < n {
					break
				}
			}
		}
	}
}

// checkTornKept sees to it that the torn line lies somewhere, in the journal or
// beside it.
func checkTornKept(t *testing.T, where string, d *disk, torn string) {
	t.Helper()
	for _, f := range d.files {
		if bytes.Contains(f.data, []byte(torn)) {
			return
		}
	}
	t.Errorf("%s: the torn line is lost", where)
}

// Many sittings with failures and crashes at chance. What was acknowledged in
// any of them is there at the end, in its order.
func TestNothingAcknowledgedIsLost(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := newDisk()
		var kept []string
		for sitting := range rapid.IntRange(1, 6).Draw(rt, "sittings") {
			var todo []string
			for i := range rapid.IntRange(0, 4).Draw(rt, "entries") {
				todo = append(todo, fmt.Sprintf(`{"sitting":%d,"entry":%d}`, sitting, i))
			}
			first := d.ops + rapid.IntRange(1, 40).Draw(rt, "fails at")
			forGood := rapid.Bool().Draw(rt, "for good")
			d.fail = func(op int) bool { return op == first || forGood && op > first }
			acked, tried, err := work(d, todo)
			if err != nil && !errors.Is(err, errDisk) {
				rt.Fatal(err)
			}
			if rapid.Bool().Draw(rt, "crash") {
				d = d.crash(rand.New(rand.NewPCG(1, rapid.Uint64().Draw(rt, "seed"))))
			}
			got := found(t, d)
			// What an opening has shown survives a crash of its own.
			d = d.crash(rand.New(rand.NewPCG(2, rapid.Uint64().Draw(rt, "second seed"))))
			if again := found(t, d); !slices.Equal(got, again) {
				rt.Fatalf("sitting %d: opened with %d lines, after a crash %d", sitting, len(got), len(again))
			}
			if err := checkKept(got, slices.Concat(kept, acked), slices.Concat(kept, tried)); err != nil {
				rt.Fatalf("sitting %d: %v", sitting, err)
			}
			kept = got
		}
	})
}
