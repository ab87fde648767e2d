package main

import "fmt"

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

// stepOf says where a task stands, without a total: what is answered decides
// which steps are asked for.
func stepOf(t taskJSON) string { return fmt.Sprintf("step %d", t.Step) }
