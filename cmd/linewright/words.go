package main

import (
	"fmt"
	"strings"
)

// count says how many there are.
func count(n int, one, many string) string {
	switch n {
	case 0:
		return "No " + many
	case 1:
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// sentence begins a text with a capital letter.
func sentence(text string) string { return strings.ToUpper(text[:1]) + text[1:] }

// stepOf says where a task stands, without a total: what is answered decides
// which steps are asked for.
func stepOf(t taskJSON) string { return fmt.Sprintf("step %d", t.Step) }
