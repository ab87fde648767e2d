package procedure

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"unicode/utf8"
)

var slotInText = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`\{([^{}]*)\}`) })

// namesIn lists the names that a text asks for in braces. A name in capitals
// is the same name; its value is then written in capitals.
func namesIn(text string) []string {
	var out []string
	for _, m := range slotInText().FindAllStringSubmatch(text, -1) {
		out = append(out, strings.ToLower(m[1]))
	}
	return out
}

// fill writes values into a text. What is not there yet reads "(not known)".
func fill(text string, look func(name string) (any, bool)) string {
	return slotInText().ReplaceAllStringFunc(text, func(m string) string {
		name := m[1 : len(m)-1]
		small := strings.ToLower(name)
		v, ok := look(small)
		switch {
		case !ok:
			return "(not known)"
		case name != small:
			return strings.ToUpper(Print(v))
		}
		return Print(v)
	})
}

// Capital begins a text with a capital letter.
func Capital(text string) string {
	_, n := utf8.DecodeRuneInString(text)
	return strings.ToUpper(text[:n]) + text[n:]
}

// Print gives a value as a person reads it: numbers with at most two
// decimals and no needless zeros.
func Print(v any) string {
	switch x := v.(type) {
	case float64:
		s := strconv.FormatFloat(x, 'f', 2, 64)
		return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
	case string:
		if x == "" {
			return "none"
		}
	case []string:
		return strings.Join(x, " ")
	case []float64:
		all := make([]string, len(x))
		for i, f := range x {
			all[i] = Print(f)
		}
		return strings.Join(all, " ")
	}
	return fmt.Sprint(v)
}
