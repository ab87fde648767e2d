package journal

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func tailOf(data []byte) (Head, error) { return Tail(bytes.NewReader(data), int64(len(data))) }

// headBy is what Parse says of the same bytes.
func headBy(data []byte) (Head, error) {
	lines, _, err := Parse(data)
	if err != nil || len(lines) == 0 {
		return EmptyHead(), err
	}
	return lines[len(lines)-1].Head(), nil
}

// long makes a journal of n lines whose events have about width bytes.
func long(t testing.TB, n, width int) []byte {
	t.Helper()
	var all []string
	for i := range n {
		all = append(all, fmt.Sprintf(`{"no":%d,"text":"%s"}`, i, strings.Repeat("x", width)))
	}
	return Join(chain(t, all...))
}

// Wherever a journal is cut off, and whatever a crash leaves behind the cut,
// the end alone tells what the whole tells.
func TestTailAgreesWithParse(t *testing.T) {
	whole := long(t, 6, 700)
	for cut := range len(whole) + 1 {
		for _, behind := range []string{"", "\x00\x00\x00", strings.Repeat("\x00", 9000)} {
			data := append(bytes.Clone(whole[:cut]), behind...)
			want, wantErr := headBy(data)
			got, err := tailOf(data)
			if got != want || err != nil || wantErr != nil {
				t.Fatalf("cut at %d with %d zeros: %+v, %v, want %+v, %v", cut, len(behind), got, err, want, wantErr)
			}
		}
	}
}

func TestTailOfAnyJournal(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		n, width := rapid.IntRange(0, 12).Draw(rt, "lines"), rapid.IntRange(0, 6000).Draw(rt, "width")
		data := long(t, n, width)
		data = append(data, rapid.SliceOfN(rapid.ByteRange('{', '}'), 0, 40).Draw(rt, "torn")...)
		want, err := headBy(data)
		if err != nil {
			rt.Fatal(err)
		}
		if got, err := tailOf(data); got != want || err != nil {
			rt.Fatalf("%+v, %v, want %+v", got, err, want)
		}
	})
}

// Each change to the last line is damage, whichever way it is read.
func TestTailRefusesADamagedLastLine(t *testing.T) {
	whole := long(t, 200, 100)
	start := bytes.LastIndexByte(whole[:len(whole)-1], '\n') + 1
	for i := start; i < len(whole)-1; i++ {
		data := bytes.Clone(whole)
		data[i] ^= 0x01
		want, wantErr := headBy(data)
		got, err := tailOf(data)
		if fmt.Sprint(err) != fmt.Sprint(wantErr) && err != nil {
			t.Fatalf("byte %d: %v, want %v", i, err, wantErr)
		}
		if err == nil && wantErr == nil && got != want {
			t.Fatalf("byte %d: %+v, want %+v", i, got, want)
		}
		// What the end alone cannot show is a changed link to the line before.
		if err == nil && wantErr != nil && !strings.Contains(wantErr.Error(), "does not carry the hash") && !strings.Contains(wantErr.Error(), "its number") {
			t.Fatalf("byte %d: taken, want %v", i, wantErr)
		}
	}
	for name, data := range map[string][]byte{
		"an empty line":       append(bytes.Clone(whole), '\n'),
		"a line of its own":   append(bytes.Clone(whole), "{}\n"...),
		"a first line behind": append(bytes.Clone(whole), whole[:bytes.IndexByte(whole, '\n')+1]...),
		"zeros and a newline": append(bytes.Clone(whole), "\x00\x00\n"...),
	} {
		var damage *DamageError
		if head, err := tailOf(data); !errors.As(err, &damage) || damage.Line != 201 {
			t.Errorf("%s: %+v, error %v", name, head, err)
		}
	}
	other := []byte(`{"linewright_journal":2,"n":1,"prev":"` + ZeroHash + `","event":{}}` + "\n")
	var edition *EditionError
	if _, err := tailOf(other); !errors.As(err, &edition) {
		t.Errorf("another edition: %v", err)
	}
}

func TestTailOfAFileThatShrinks(t *testing.T) {
	data := long(t, 3, 10)
	_, err := Tail(bytes.NewReader(data[:10]), int64(len(data)))
	if !errors.Is(err, io.EOF) {
		t.Errorf("error %v", err)
	}
	if _, err := Tail(bytes.NewReader(nil), MaxFile+1); err == nil {
		t.Error("a file too large was read")
	}
}

func BenchmarkTail(b *testing.B) {
	data := long(b, 500, 400)
	for b.Loop() {
		if _, err := tailOf(data); err != nil {
			b.Fatal(err)
		}
	}
}
