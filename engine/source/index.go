package source

import (
	"fmt"
	"strings"
)

// index maps each key of a TOML text to its line. It reads headers and the
// keys at the start of lines; what stands inside a value that runs over
// several lines belongs to that value's key.
func index(text string) map[string]int {
	x := &indexer{lines: map[string]int{}, count: map[string]int{}}
	for i, line := range strings.Split(text, "\n") {
		x.line(i+1, line)
	}
	return x.lines
}

type indexer struct {
	lines  map[string]int
	count  map[string]int // tables seen of an array, by its path
	prefix string         // path of the table that is open
	until  string         // closing mark of a multi-line string
	depth  int            // open brackets of a multi-line array
}

func (x *indexer) line(no int, line string) {
	if x.until != "" {
		if cut := strings.Index(line, x.until); cut >= 0 {
			line, x.until = line[cut+3:], ""
			x.value(line)
		}
		return
	}
	if x.depth > 0 {
		x.value(line)
		return
	}
	trimmed := strings.TrimSpace(line)
	switch {
	case trimmed == "" || trimmed[0] == '#':
	case strings.HasPrefix(trimmed, "[["):
		x.table(no, strings.Trim(cutAt(trimmed, "]]"), "[] "), true)
	case trimmed[0] == '[':
		x.table(no, strings.Trim(cutAt(trimmed, "]"), "[] "), false)
	default:
		key, value, ok := strings.Cut(trimmed, "=")
		if !ok {
			return
		}
		path := join(x.prefix, strings.Join(parts(key), "."))
		for p := path; p != x.prefix && p != ""; p = parent(p) {
			if _, seen := x.lines[p]; !seen {
				x.lines[p] = no
			}
		}
		x.value(value)
	}
}

// table opens a header; names on the way that are arrays mean their last table.
func (x *indexer) table(no int, header string, array bool) {
	path := ""
	names := parts(header)
	for i, name := range names {
		path = join(path, name)
		last := i == len(names)-1
		if last && array {
			path, x.count[path] = fmt.Sprintf("%s[%d]", path, x.count[path]), x.count[path]+1
		} else if n := x.count[path]; n > 0 {
			path = fmt.Sprintf("%s[%d]", path, n-1)
		}
	}
	x.prefix = path
	x.lines[path] = no
}

// value follows brackets and multi-line strings to the end of a line.
func (x *indexer) value(s string) {
	for i := 0; i < len(s); i++ {
		switch c := s[i]; c {
		case '#':
			return
		case '[', '{':
			x.depth++
		case ']', '}':
			x.depth--
		case '"', '\'':
			triple := strings.Repeat(string(c), 3)
			if strings.HasPrefix(s[i:], triple) {
				end := strings.Index(s[i+3:], triple)
				if end < 0 {
					x.until = triple
					return
				}
				i += 3 + end + 2
				continue
			}
			i = closing(s, i)
		}
	}
}

// closing gives the index of the quote that ends the string starting at i.
func closing(s string, i int) int {
	quote := s[i]
	for j := i + 1; j < len(s); j++ {
		if s[j] == '\\' && quote == '"' {
			j++
			continue
		}
		if s[j] == quote {
			return j
		}
	}
	return len(s)
}

func parts(key string) []string {
	var out []string
	for _, p := range strings.Split(key, ".") {
		out = append(out, strings.Trim(strings.TrimSpace(p), `"'`))
	}
	return out
}

func join(prefix, name string) string {
	if prefix == "" {
		return name
	}
	return prefix + "." + name
}

func parent(path string) string {
	if cut := strings.LastIndexByte(path, '.'); cut >= 0 {
		return path[:cut]
	}
	return ""
}

func cutAt(s, mark string) string {
	if i := strings.Index(s, mark); i >= 0 {
		return s[:i]
	}
	return s
}
