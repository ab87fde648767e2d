package prompt

import (
	"strings"
	"testing"

	"example.org/linewright/engine/job"
)

// The words on the tag never say that a wing may fly, and repeat what a pilot
// signed only while it stands.
func TestTheWordsOnTheTag(t *testing.T) {
	word := &job.PilotWord{Name: "pat", States: "I take it off.", Said: []string{"Where is it? In its bag"}, Stands: true}
	for _, c := range []struct {
		word  *job.PilotWord
		tasks int
		want  string
	}{
		{nil, 0, "If one hangs on the wing, it stays there. Only the pilot"},
		{nil, 1, "It stays on the wing. Only the pilot"},
		{word, 1, `pat signed as the pilot: "I take it off." Where is it? In its bag. This is the pilot's word`},
		{&job.PilotWord{Name: "pat"}, 1, "It stays on the wing, or goes on again now: what pat signed"},
	} {
		got := tagWords(c.word, c.tasks)
		if !strings.HasPrefix(got, c.want) || !strings.HasSuffix(got, "does not say that the wing may be flown.") {
			t.Errorf("%q, want it to begin with %q", got, c.want)
		}
	}
}
