package main

import (
	"errors"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"example.org/linewright/procedures"
)

var update = flag.Bool("update", false, "write golden files; read them before you commit them")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"linewright": main})
}

// TestScripts runs testdata/script/*.txtar: what each command does, with its
// errors and exit statuses. They are the visible specification.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:           "testdata/script",
		UpdateScripts: *update,
		Setup: func(env *testscript.Env) error {
			env.Setenv("LINEWRIGHT_STORE", filepath.Join(env.WorkDir, "store"))
			env.Setenv("USER", "tester")
			env.Setenv("SSH_AUTH_SOCK", "")
			env.Setenv("TMPDIR", filepath.Join(env.WorkDir, "tmp"))
			return errors.Join(os.Mkdir(filepath.Join(env.WorkDir, "tmp"), 0o755), sampleFiles(env.WorkDir))
		},
		Cmds:      map[string]func(*testscript.TestScript, bool, []string){"status": wantStatus, "answer": changeAnswer},
		Condition: needed,
	})
}

// sampleFiles lays the sample plan and answers out for a script.
func sampleFiles(dir string) error {
	for _, name := range []string{samplePlan, sampleAnswers} {
		data, err := procedures.Sample.ReadFile(name)
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(dir, filepath.Base(name)), data, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// wantStatus is "status N COMMAND ...": the command must end with that status.
func wantStatus(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status N COMMAND [ARG ...]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	var exit *exec.ExitError
	if err := ts.Exec(args[1], args[2:]...); errors.As(err, &exit) {
		got = exit.ExitCode()
	} else {
		ts.Check(err)
	}
	if got != want {
		ts.Fatalf("exit status %d, want %d", got, want)
	}
}

// changeAnswer is "answer FROM TO KEY NTH TEXT": a file of answers with one
// changed, the NTH of that key counted from 1.
func changeAnswer(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 5 {
		ts.Fatalf("usage: answer FROM TO KEY NTH TEXT")
	}
	nth, err := strconv.Atoi(args[3])
	ts.Check(err)
	lines := strings.Split(ts.ReadFile(args[0]), "\n")
	for i, line := range lines {
		key, _, ok := strings.Cut(line, "=")
		if ok && strings.TrimSpace(key) == args[2] {
			if nth--; nth == 0 {
				lines[i] = args[2] + " = " + args[4]
				ts.Check(os.WriteFile(ts.MkAbs(args[1]), []byte(strings.Join(lines, "\n")), 0o644))
				return
			}
		}
	}
	ts.Fatalf("there is no such answer: %s", args[2])
}

// needed is the condition [tool:NAME]: skips where the tool is absent, unless
// absent tools are failures.
func needed(cond string) (bool, error) {
	name, ok := strings.CutPrefix(cond, "tool:")
	if !ok {
		return false, errors.New("unknown condition " + cond)
	}
	if _, err := exec.LookPath(name); err != nil {
		if os.Getenv("LINEWRIGHT_NEED_TOOLS") == "1" {
			return false, errors.New(name + " is needed and absent")
		}
		return false, nil
	}
	return true, nil
}
