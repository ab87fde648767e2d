package job

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"sync"
)

// Hours is flying time in tenths of an hour.
type Hours int64

// mostHours is beyond the life of any wing.
const mostHours = 10_000

// hoursForm keeps out what Go reads as a number and no person writes as hours:
// powers, signs, hexadecimal digits.
var hoursForm = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[0-9]+([.,][0-9]+)?$`) })

// ParseHours reads flying hours as typed: "123", "123.5" or "123,5". The
// error is one line what and one line what to do.
func ParseHours(text string) (Hours, error) {
	number := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "h"))
	x, err := strconv.ParseFloat(strings.Replace(number, ",", ".", 1), 64)
	if err != nil || !hoursForm().MatchString(number) || x > mostHours {
		return 0, fmt.Errorf("%q is no number of flying hours\n  type 0 to %d, one decimal at most, such as 123 or 123.5", text, mostHours)
	}
	tenths := Hours(x*10 + 0.5)
	if d := x*10 - float64(tenths); d > 1e-6 || d < -1e-6 {
		return 0, fmt.Errorf("%q is finer than a tenth of an hour\n  type one decimal at most, such as 123.5", text)
	}
	return tenths, nil
}

// String gives "123.5 h".
func (h Hours) String() string {
	if h%10 == 0 {
		return fmt.Sprintf("%d h", h/10)
	}
	return fmt.Sprintf("%d.%d h", h/10, h%10)
}

var dateForm = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^([0-9]{4})-([0-9]{2})-([0-9]{2})$`) })

// isDate reports whether a text is a day of the calendar, as 2027-03-01. Dates
// of that form are in their order as texts.
func isDate(text string) bool {
	m := dateForm().FindStringSubmatch(text)
	if m == nil {
		return false
	}
	year, _ := strconv.Atoi(m[1])
	month, _ := strconv.Atoi(m[2])
	d, _ := strconv.Atoi(m[3])
	if month < 1 || month > 12 || d < 1 {
		return false
	}
	days := []int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}[month-1]
	if month == 2 && (year%4 == 0 && year%100 != 0 || year%400 == 0) {
		days = 29
	}
	return d <= days
}

// day is the date of a time as it was written, RFC 3339.
func day(at string) string {
	if len(at) >= len("2006-01-02") && isDate(at[:10]) {
		return at[:10]
	}
	return at
}
