//go:build unix

package main

import (
	"bytes"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/creack/pty"
)

// From the start of the program to its first picture on a terminal, with a
// minimal program that draws one by turns: the medians, and their ratio.
func BenchmarkFirstPicture(b *testing.B) {
	dir := b.TempDir()
	paths := map[string]string{".": filepath.Join(dir, "bench"), "./testdata/minimal": filepath.Join(dir, "minimal")}
	for from, to := range paths {
		if out, err := exec.Command("go", "build", "-o", to, from).CombinedOutput(); err != nil {
			b.Fatalf("%v\n%s", err, out)
		}
	}
	var bench, minimal []time.Duration
	for b.Loop() {
		bench = append(bench, firstPicture(b, program(paths["."]).on(dir), "ctrl+c"))
		minimal = append(minimal, firstPicture(b, program(paths["./testdata/minimal"]).on(dir), "first picture"))
	}
	slices.Sort(bench)
	slices.Sort(minimal)
	own, least := bench[len(bench)/2], minimal[len(minimal)/2]
	b.ReportMetric(float64(own.Microseconds())/1000, "bench-ms")
	b.ReportMetric(float64(least.Microseconds())/1000, "minimal-ms")
	b.ReportMetric(float64(own)/float64(least), "ratio")
}

// firstPicture starts a program on a terminal and gives the time until it shows
// a text.
func firstPicture(b *testing.B, cmd *exec.Cmd, text string) time.Duration {
	b.Helper()
	start := time.Now()
	terminal, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: 24, Cols: 80})
	if err != nil {
		b.Fatal(err)
	}
	defer terminal.Close()
	var all []byte
	part := make([]byte, 4096)
	for !bytes.Contains(all, []byte(text)) {
		n, err := terminal.Read(part)
		if err != nil {
			b.Fatalf("%v\n%s", err, all)
		}
		all = append(all, part[:n]...)
	}
	took := time.Since(start)
	_ = cmd.Process.Kill() // it has shown what was wanted
	_ = cmd.Wait()         // its status is that of the kill
	return took
}
