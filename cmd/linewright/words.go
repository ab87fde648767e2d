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

// stepOf says where a task stands.
func stepOf(t taskJSON) string { return fmt.Sprintf("step %d of %d", t.Step, t.Of) }
