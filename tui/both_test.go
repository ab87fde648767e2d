package tui

import (
	"slices"
	"strings"
	"testing"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/procedures"
)

// The whole story of the sample wing, from the incident to the next visit, is
// the same journal at the bench as in line mode.
func TestTheStoryIsTheSameBothWays(t *testing.T) {
	t.Parallel()
	story, err := procedures.Sample.ReadFile("sample/story.txt")
	if err != nil {
		t.Fatal(err)
	}
	inBoth(t, these(t, "damage-survey", "wing-look", "trim-measure", "part-receipt", "part-check", "line-exchange", "link-opening", "link-reclosure",
		"brake-fittings", "loop-change", "line-swap", "trim-after", "release", "first-flight"), "story.txt", string(story)).atTheBench(80, 24)
}

// The sample answers of the demo, a swap from the tag to the closed job.
func TestTheSwapIsTheSameBothWays(t *testing.T) {
	t.Parallel()
	answers, err := procedures.Sample.ReadFile("sample/answers.txt")
	if err != nil {
		t.Fatal(err)
	}
	story := "== 2026-03-01 09:00 ann new a snag cut a lower C line\n:add line-swap C1.2 left\n"
	for _, l := range strings.Split(string(answers), "\n") {
		if key, text, ok := strings.Cut(l, "="); ok && !strings.HasPrefix(key, "#") {
			story += strings.TrimSpace(text) + "\n"
		}
	}
	story += "second bea\npilot pia\n"
	inBoth(t, these(t, "line-swap", "part-check", "link-opening", "line-exchange", "link-reclosure"), "answers.txt", story).atTheBench(80, 24)
}

// these gives procedures that are shipped, by their names. Fewer of them are
// read faster, and they are read for each task that is added.
func these(t *testing.T, names ...string) []procedure.File {
	t.Helper()
	var out []procedure.File
	for _, f := range procedures.Files() {
		if slices.Contains(names, strings.TrimSuffix(f.Name, ".toml")) {
			out = append(out, f)
		}
	}
	if len(out) != len(names) {
		t.Fatalf("%d procedures of %d", len(out), len(names))
	}
	return out
}
