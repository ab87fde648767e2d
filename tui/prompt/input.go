package prompt

import (
	"bufio"
	"context"
	"errors"
	"io"
	"os"
	"strings"
	"time"

	"golang.org/x/term"
)

// longestLine is what is kept of one line in bytes; the engine refuses much
// shorter ones, so this only bounds the memory that a stray file can take.
const longestLine = 16 << 10

// burst is how soon after a question an empty line cannot be a person's: it
// is the second half of a doubled line end from an instrument, or a key that
// is held down.
const burst = 200 * time.Millisecond

// ErrNoTerminal says that a pass phrase is wanted and cannot be typed unseen.
var ErrNoTerminal = errors.New("a pass phrase is wanted and there is no terminal to type it on\n" +
	"  use a terminal, a key that ssh-agent holds, or one without pass phrase")

// Input reads lines, and pass phrases without echo where it is a terminal.
type Input struct {
	lines    *bufio.Reader
	file     *os.File // nil when it is no terminal
	finished bool
}

// NewInput reads from r; a terminal is known as one.
func NewInput(r io.Reader) *Input {
	in := &Input{lines: bufio.NewReader(r)}
	if f, ok := r.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		in.file = f
	}
	return in
}

// Terminal reports whether a person sits at the other end.
func (in *Input) Terminal() bool { return in.file != nil }

// Line reads one line without its end. The error is io.EOF at the end, or the
// context's. A last line without an end counts as one.
func (in *Input) Line(ctx context.Context) (string, error) {
	if in.finished {
		return "", io.EOF
	}
	return wait(ctx, in.line)
}

func (in *Input) line() (string, error) {
	var kept []byte
	for {
		part, err := in.lines.ReadSlice('\n')
		kept = append(kept, part[:min(len(part), longestLine-len(kept))]...)
		switch {
		case errors.Is(err, bufio.ErrBufferFull):
			continue
		case err != nil:
			in.finished = true
			if len(kept) == 0 || !errors.Is(err, io.EOF) {
				return "", err
			}
		}
		return strings.TrimRight(string(kept), "\r\n"), nil
	}
}

// Hidden asks on out and reads a pass phrase that is not shown. The caller
// overwrites it. ErrNoTerminal where there is none.
func (in *Input) Hidden(ctx context.Context, out io.Writer, ask string) ([]byte, error) {
	if in.file == nil {
		return nil, ErrNoTerminal
	}
	fd := int(in.file.Fd())
	before, err := term.GetState(fd)
	if err != nil {
		return nil, err
	}
	if _, err := io.WriteString(out, ask+" "); err != nil {
		return nil, err
	}
	phrase, err := wait(ctx, func() ([]byte, error) { return term.ReadPassword(fd) })
	if ctx.Err() != nil {
		// The reading goes on behind; the terminal must show keys again.
		_ = term.Restore(fd, before)
	}
	_, werr := io.WriteString(out, "\n")
	return phrase, errors.Join(err, werr)
}

// wait runs a read that cannot be interrupted and leaves it behind when the
// context ends: the program ends with it.
func wait[T any](ctx context.Context, read func() (T, error)) (T, error) {
	type result struct {
		value T
		err   error
	}
	done := make(chan result, 1)
	go func() {
		value, err := read()
		done <- result{value, err}
	}()
	select {
	case r := <-done:
		return r.value, r.err
	case <-ctx.Done():
		var none T
		return none, ctx.Err()
	}
}
