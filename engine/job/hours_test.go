package job

import (
	"strings"
	"testing"
)

func TestHoursAreReadAsAPersonWritesThem(t *testing.T) {
	for text, want := range map[string]Hours{
		"0": 0, "123": 1230, "123.5": 1235, "123,5": 1235, " 12.50 h ": 125, "7h": 70, "10000": 100000,
	} {
		if got, err := ParseHours(text); err != nil || got != want {
			t.Errorf("%q: %d %v, want %d", text, got, err, want)
		}
	}
	for text, want := range map[string]string{
		"": "is no number", "h": "is no number", "-1": "is no number", "+1": "is no number", "1e2": "is no number", "0x10": "is no number",
		"nan": "is no number", "Inf": "is no number", "1_000": "is no number", "10000.1": "is no number", "1,000.5": "is no number",
		"1 2": "is no number", "12.": "is no number", "12.34": "finer than a tenth",
	} {
		_, err := ParseHours(text)
		if err == nil || !strings.Contains(err.Error(), want) || strings.Count(err.Error(), "\n") != 1 {
			t.Errorf("%q: %v, want %q and one line what to do", text, err, want)
		}
	}
}

func TestHoursAreWritten(t *testing.T) {
	for h, want := range map[Hours]string{0: "0 h", 5: "0.5 h", 1230: "123 h", 1235: "123.5 h"} {
		if h.String() != want {
			t.Errorf("%d: %s, want %s", h, h, want)
		}
	}
}

func TestADateIsADayOfTheCalendar(t *testing.T) {
	for _, good := range []string{"2026-02-28", "2028-02-29", "2000-02-29", "2026-12-31"} {
		if !isDate(good) {
			t.Errorf("%s is none", good)
		}
	}
	for _, bad := range []string{"", "2026-2-28", "2026-02-29", "2100-02-29", "2026-04-31", "2026-13-01", "2026-00-10", "2026-01-00", "2026-01-01T", "01.03.2027"} {
		if isDate(bad) {
			t.Errorf("%q is one", bad)
		}
	}
	if got := day("2026-03-01T23:59:00+02:00"); got != "2026-03-01" {
		t.Errorf("day: %s", got)
	}
}

// A date counts to its end. Hours count from the wing's hours at the job that
// deferred, and only where both are known.
func TestADeferralRunsOut(t *testing.T) {
	known := func(h Hours) *Hours { return &h }
	byDate := Deferral{Until: "2026-06-01"}
	byHours, unknown := Deferral{Hours: 100, Base: known(1230)}, Deferral{Hours: 100}
	for _, c := range []struct {
		what  string
		d     Deferral
		at    string
		hours *Hours
		want  bool
	}{
		{"the day before", byDate, "2026-05-31T10:00:00Z", nil, false},
		{"the day itself", byDate, "2026-06-01T23:59:59Z", nil, false},
		{"the day after", byDate, "2026-06-02T00:00:00Z", nil, true},
		{"by date, whatever is flown", byDate, "2026-05-31T10:00:00Z", known(99999), false},
		{"9.9 h flown", byHours, "2030-01-01T00:00:00Z", known(1329), false},
		{"10 h flown", byHours, "2026-03-02T00:00:00Z", known(1330), true},
		{"nobody says what is flown", byHours, "2030-01-01T00:00:00Z", nil, false},
		{"nobody said then", unknown, "2030-01-01T00:00:00Z", known(99999), false},
	} {
		if got := c.d.Over(c.at, c.hours); got != c.want {
			t.Errorf("%s: over is %v", c.what, got)
		}
	}
	for want, d := range map[string]*Deferral{"2026-06-01": &byDate, "133 h on the wing": &byHours, "10 h of flying": &unknown} {
		if d.Limit() != want {
			t.Errorf("limit %q, want %q", d.Limit(), want)
		}
	}
}
