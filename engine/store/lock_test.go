package store

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
)

// The test program runs itself as a second program on the same store when this
// is set to what it is to do there.
const helperEnv = "LINEWRIGHT_STORE_HELPER"

func TestMain(m *testing.M) {
	if os.Getenv(helperEnv) == "" {
		os.Exit(m.Run())
	}
	if err := helper(os.Getenv(helperEnv), os.Args[1]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
}

// helper works on the store in dir until it is killed, and says on standard
// output what it has done.
func helper(task, dir string) error {
	s, err := Open(dir)
	if err != nil {
		return err
	}
	if task == "replace" {
		return replaceForEver(s)
	}
	j, err := s.OpenJob(1, "Ben")
	if err != nil {
		return err
	}
	for n := 1; ; n++ {
		event := json.RawMessage(fmt.Sprintf(`{"entry":%d}`, n))
		if _, err := j.Log().Append(j.Log().Head(), event); err != nil {
			return err
		}
		fmt.Println(n)
	}
}

// replaceForEver writes a bench profile of one letter, the next time of another.
func replaceForEver(s *Store) error {
	for n := 1; ; n++ {
		if err := s.WriteBenchProfile(profile(n)); err != nil {
			return err
		}
		fmt.Println(n)
	}
}

func profile(n int) []byte {
	return []byte(strings.Repeat(string(rune('a'+n%26)), 20_000+n%26))
}

// startHelper starts the second program, waits for its first word and returns
// it with a function that kills it and gives the last number it said.
func startHelper(t *testing.T, task, dir string) (pid int, kill func() int) {
	t.Helper()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(exe, dir)
	cmd.Env = append(os.Environ(), helperEnv+"="+task)
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	said := bufio.NewScanner(out)
	if !said.Scan() {
		t.Fatalf("the second program says nothing: %v", errors.Join(said.Err(), cmd.Wait()))
	}
	killed := false
	kill = func() int {
		killed = true
		if err := cmd.Process.Kill(); err != nil {
			t.Error(err)
		}
		last := said.Text()
		for said.Scan() {
			last = said.Text()
		}
		// It was killed, so its status is no news.
		_ = cmd.Wait()
		n, err := strconv.Atoi(last)
		if err != nil {
			t.Error(err)
		}
		return n
	}
	t.Cleanup(func() {
		if !killed {
			kill()
		}
	})
	return cmd.Process.Pid, kill
}

func TestSecondHolderIsToldWhoHasTheJob(t *testing.T) {
	s := newStore(t)
	j := newJob(t, s)
	_, err := openStore(t, s.Dir()).OpenJob(1, "Ben")
	var locked *LockedError
	if !errors.As(err, &locked) {
		t.Fatalf("error %v", err)
	}
	host, hostErr := os.Hostname()
	if hostErr != nil {
		t.Fatal(hostErr)
	}
	holder := fmt.Sprintf("Anna, process %d on %s", os.Getpid(), host)
	if locked.Job != 1 || locked.Holder != holder {
		t.Errorf("told %+v, want %q", locked, holder)
	}
	want := "job 1 is open elsewhere: " + holder + "\nclose it there, then open it here"
	if err.Error() != want {
		t.Errorf("text %q, want %q", err, want)
	}
	closeJob(t, j)
	if _, err := os.Stat(s.path("jobs/0001/lock")); err != nil {
		t.Errorf("the lock file is gone: %v", err)
	}
	openJob(t, s, 1)
}

// The file that names the holder is a courtesy. Whatever stands in it, the lock
// counts and nothing strange reaches the terminal.
func TestHolderFileIsOnlyACourtesy(t *testing.T) {
	s := newStore(t)
	j := newJob(t, s)
	name := "jobs/0001/holder"
	for text, want := range map[string]string{
		"":                       "somebody who has just opened it",
		"\n \n":                  "somebody who has just opened it",
		"x\x1b[2J\u009b2Jy\nz":   "x?[2J?2Jy?z",
		"\xff\u202e":             "??",
		strings.Repeat("x", 2e3): "somebody who has just opened it",
	} {
		put(t, s, name, text)
		_, err := s.OpenJob(1, "Ben")
		var locked *LockedError
		if !errors.As(err, &locked) || locked.Holder != want {
			t.Errorf("%.20q: error %v", text, err)
		}
	}
	if err := os.Remove(s.path(name)); err != nil {
		t.Fatal(err)
	}
	var locked *LockedError
	if _, err := s.OpenJob(1, "Ben"); !errors.As(err, &locked) {
		t.Errorf("no file: error %v", err)
	}
	closeJob(t, j)
	put(t, s, name, "left over from a crash")
	again, err := s.OpenJob(1, "C\x1b[2J\n"+strings.Repeat("é", 100))
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	if text, err := os.ReadFile(s.path(name)); err != nil || !printable(strings.TrimSuffix(string(text), "\n")) {
		t.Errorf("the file holds %q, error %v", text, err)
	}
	_, err = s.OpenJob(1, "Ben")
	checkRefusal(t, "a strange name", err)
	if !errors.As(err, &locked) || !strings.HasPrefix(locked.Holder, "C?[2J?é") {
		t.Errorf("error %v", err)
	}
}

// Who holds a job is told without opening it, and nothing is written for it. A
// name that a crash left over holds nothing.
func TestHolderIsToldWithoutOpening(t *testing.T) {
	s := newStore(t)
	j := newJob(t, s)
	here := func(want string) {
		t.Helper()
		if who, err := s.Holder(1); err != nil || !strings.HasPrefix(who, want) || want == "" && who != "" {
			t.Errorf("held by %q, error %v, want %q", who, err, want)
		}
	}
	here("Anna, process ")
	closeJob(t, j)
	if err := os.Remove(s.path("jobs/0001/lock")); err != nil {
		t.Fatal(err)
	}
	here("")
	if _, err := os.Stat(s.path("jobs/0001/lock")); err == nil {
		t.Error("asking made a lock file")
	}
	put(t, s, "jobs/0001/holder", "left over from a crash")
	here("")
	if _, err := s.Holder(2); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a job that is not there: %v", err)
	}
}

// kill -9 gives the lock back and loses nothing that was acknowledged.
func TestKilledHolder(t *testing.T) {
	s := newStore(t)
	closeJob(t, newJob(t, s))
	acknowledged := 0
	for round := range 5 {
		pid, kill := startHelper(t, "append", s.Dir())
		_, err := s.OpenJob(1, "Anna")
		var locked *LockedError
		if !errors.As(err, &locked) || !strings.HasPrefix(locked.Holder, fmt.Sprintf("Ben, process %d on ", pid)) {
			t.Errorf("round %d: while the other lives: %v", round, err)
		}
		acknowledged += kill()
		j, err := s.OpenJob(1, "Anna")
		if err != nil {
			t.Fatalf("round %d: after the kill: %v", round, err)
		}
		found := j.Log().Head().N
		if found < acknowledged || found > acknowledged+1 {
			t.Errorf("round %d: %d acknowledged, %d found", round, acknowledged, found)
		}
		acknowledged = found
		closeJob(t, j)
	}
}

// A file that is replaced is the old one or the new one, whenever the kill came.
func TestKilledWhileReplacing(t *testing.T) {
	s := newStore(t)
	for round := range 5 {
		_, kill := startHelper(t, "replace", s.Dir())
		n := kill()
		got, err := s.BenchProfile()
		if err != nil {
			t.Fatal(err)
		}
		if string(got) != string(profile(n)) && string(got) != string(profile(n+1)) {
			t.Errorf("round %d: after %d the profile has %d bytes %.3q...", round, n, len(got), got)
		}
	}
	// What a kill leaves behind is in nobody's way.
	if err := s.WriteBenchProfile([]byte("last")); err != nil {
		t.Error(err)
	}
	if again := openStore(t, s.Dir()); again == nil {
		t.Error("not opened again")
	}
}
