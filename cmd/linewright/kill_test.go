//go:build unix

package main

import (
	"bufio"
	"io"
	"math/rand/v2"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/session"
	"example.org/linewright/engine/store"
	"example.org/linewright/procedures"
)

var (
	readMark  = regexp.MustCompile(`^> (.*)$`)
	savedMark = regexp.MustCompile(`^Saved, entry (\d+)\.$`)
)

// said is what a killed walk had said to be saved: by line number, as typed.
type said map[int]string

// killedWalk feeds lines to a walk of job 1 and kills it some time after it has
// said of so many entries that they are saved.
func killedWalk(t *testing.T, p program, dir string, lines []string, entries int, after time.Duration) said {
	t.Helper()
	cmd := p.on(dir, "job", "walk", "1", "--as", demoDoer)
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	go func() {
		defer in.Close() // with nothing more to read the walk ends by itself
		for _, line := range lines {
			if _, err := io.WriteString(in, line+"\n"); err != nil {
				return // killed
			}
			time.Sleep(2 * time.Millisecond)
		}
	}()
	told, typed := said{}, ""
	for text := bufio.NewScanner(out); text.Scan(); {
		if m := readMark.FindStringSubmatch(text.Text()); m != nil {
			typed = m[1]
		}
		if m := savedMark.FindStringSubmatch(text.Text()); m != nil {
			n, _ := strconv.Atoi(m[1])
			told[n] = typed
			if len(told) == entries {
				time.AfterFunc(after, func() { _ = cmd.Process.Kill() })
			}
		}
	}
	_ = cmd.Wait() // killed, or done before
	return told
}

// remaining gives the lines that a new sitting has to type: the confirmation of
// the last step, the name of the second person at their card, and the answers
// that are not in the journal yet.
func remaining(j *job.Job, list answers) []string {
	done := 0
	for _, e := range j.Events() {
		if !slices.Contains([]job.Kind{job.Started, job.Added, job.Confirmed, job.Looking}, e.Kind) {
			done++
		}
	}
	var lines []string
	if done > 0 {
		lines = append(lines, "")
	}
	named := false
	for _, a := range slices.DeleteFunc(slices.Clone(list), func(a answer) bool { return a.key == asSecond })[done:] {
		if strings.HasPrefix(a.key, "closure.second_") && !named {
			lines, named = append(lines, demoSecond), true
		}
		lines = append(lines, a.text)
	}
	return lines
}

// A walk is killed at many moments and taken up again, until the swap is done.
// Every entry that was said to be saved is there, as typed.
func killLosesNothing(t *testing.T, p program) {
	dir := t.TempDir()
	folder, err := store.Open(filepath.Join(dir, "store"))
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	d := session.Desk{Store: folder, Procedures: procedures.Files(), Who: demoDoer, Clock: time.Now}
	if _, err := demoJob(d); err != nil {
		t.Fatal(err)
	}
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	chance := rand.New(rand.NewPCG(seed, 0))
	list := sampleList(t)
	kills := 0
	for round := 0; round < 200; round++ {
		j, _, err := d.Look(1)
		if err != nil {
			t.Fatal(err)
		}
		if j.Closed != nil {
			break
		}
		told := killedWalk(t, p, dir, remaining(j, list), 1+chance.IntN(3), time.Duration(chance.IntN(2_000))*time.Microsecond)
		kills++
		checkSaid(t, d, told)
	}
	j, _, err := d.Look(1)
	if err != nil {
		t.Fatal(err)
	}
	if j.Closed == nil {
		t.Errorf("after %d kills the swap is not done", kills)
	}
	t.Logf("%d kills", kills)
	if kills < 10 {
		t.Errorf("only %d kills: the moments are too late to prove anything", kills)
	}
}

func checkSaid(t *testing.T, d session.Desk, told said) {
	t.Helper()
	j, _, err := d.Look(1)
	if err != nil {
		t.Fatal(err)
	}
	for n, typed := range told {
		if n > j.Lines {
			t.Fatalf("line %d was said to be saved, the journal ends with line %d", n, j.Lines)
		}
		if e := j.Events()[n-1]; (e.Kind == job.Answered || e.Kind == job.Read) && e.Typed != typed {
			t.Errorf("line %d was typed %q, the journal has %q", n, typed, e.Typed)
		}
	}
}
