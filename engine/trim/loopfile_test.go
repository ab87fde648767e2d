package trim

import (
	"testing"

	"example.org/linewright/engine/source"
)

func TestParseLoops(t *testing.T) {
	got, err := ParseLoops("loops.toml", []byte("linewright_loops = 1\nsource = 'measured by Ann, 2026-03-01'\n[[loop]]\ncode = 'plain'\nshortens_mm = 0\n[[loop]]\ncode = 'wrapped'\nshortens_mm = 8.5\n"))
	if err != nil {
		t.Fatal(err)
	}
	equal(t, "source", got.Source, "measured by Ann, 2026-03-01")
	equal(t, "fallback", got.Fallback, false)
	equal(t, "loops", len(got.Loops), 2)
	equal(t, "wrapped", got.Loops[1], Loop{"wrapped", 8500})
	if err := got.check(); err != nil {
		t.Error(err)
	}
}

func TestLoopFaults(t *testing.T) {
	got := ""
	for _, file := range []string{
		"",
		"linewright_loops = 2\n",
		"linewright_loops = 1\n",
		"linewright_loops = 1\nsource = 's'\n[[loop]]\ncode = 'plain'\n[[loop]]\ncode = 'plain'\nshortens_mm = -1\n[[loop]]\ncode = 'a=b'\nshortens_mm = 101\n",
		"linewright_loops = 1\nsource = 's'\n[[loop]]\ncode = 'plain'\nshortens = 3\n",
		"loops",
	} {
		table, err := ParseLoops("loops.toml", []byte(file))
		faults, ok := err.(source.Faults)
		if !ok || len(table.Loops) > 0 {
			t.Fatalf("%q: %v %v", file, table, err)
		}
		got += faults.Error() + "\n\n"
	}
	golden(t, "loopfaults.txt", got)
}

// Any text gives a table that can be used, or faults.
func FuzzParseLoops(f *testing.F) {
	f.Add([]byte("linewright_loops = 1\nsource = 's'\n[[loop]]\ncode = 'plain'\nshortens_mm = 0\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		table, err := ParseLoops("x.toml", data)
		if err == nil {
			err = table.check()
		} else if _, ok := err.(source.Faults); ok {
			return
		}
		if err != nil {
			t.Errorf("%v", err)
		}
	})
}
