package procedure

import "testing"

func TestCapitalTakesAWholeLetter(t *testing.T) {
	for text, want := range map[string]string{"": "", "a line": "A line", "öse": "Öse", "7 mm": "7 mm"} {
		if got := Capital(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}
