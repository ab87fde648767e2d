package seal

import (
	"slices"
	"strings"
)

// matchList says whether a text fits a pattern list as ssh_config(5) has it:
// one pattern at least fits, and none that starts with "!".
func matchList(patterns []string, text string) bool {
	found := false
	for _, p := range patterns {
		bare, negated := strings.CutPrefix(p, "!")
		switch fits := match(bare, text); {
		case fits && negated:
			return false
		case fits:
			found = true
		}
	}
	return found
}

// match fits one pattern: * stands for any number of characters, ? for one.
// It goes back to the last * only, so that a hostile pattern cannot make it slow.
func match(pattern, text string) bool {
	p, t := 0, 0
	star, resume := -1, 0
	for t < len(text) {
		switch {
		case p < len(pattern) && pattern[p] == '*':
			star, resume = p, t
			p++
		case p < len(pattern) && (pattern[p] == '?' || pattern[p] == text[t]):
			p++
			t++
		case star >= 0:
			resume++
			p, t = star+1, resume
		default:
			return false
		}
	}
	return strings.Trim(pattern[p:], "*") == ""
}

// overlap says whether some name may fit both lists. Two patterns are taken to
// overlap without looking closer: it errs toward one person.
func overlap(one, other []string) bool {
	return hasNameIn(one, other) || hasNameIn(other, one) || hasPattern(one) && hasPattern(other)
}

func hasNameIn(names, list []string) bool {
	return slices.ContainsFunc(names, func(n string) bool {
		return isName(n) && matchList(names, n) && matchList(list, n)
	})
}

func hasPattern(list []string) bool {
	return slices.ContainsFunc(list, func(p string) bool {
		return !strings.HasPrefix(p, "!") && strings.ContainsAny(p, "*?")
	})
}
