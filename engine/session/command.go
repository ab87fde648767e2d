package session

import "strings"

// Command is a command line of this program as it has to be typed to reach the
// desk's store: "linewright --store 'my wings' job walk 1".
func (d Desk) Command(words string) string {
	if !d.Elsewhere {
		return "linewright " + words
	}
	return "linewright --store " + quoted(d.Store.Dir()) + " " + words
}

// quoted is a path as one word of a shell, kept bare where it can be.
func quoted(path string) string {
	plain := strings.IndexFunc(path, func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune(`/\:._-+`, r))
	}) < 0
	if plain && path != "" {
		return path
	}
	return "'" + strings.ReplaceAll(path, "'", `'\''`) + "'"
}
