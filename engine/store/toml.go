package store

import (
	"errors"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"

	"github.com/BurntSushi/toml"
)

// tomlFile is a flat TOML file of the store while it is read.
type tomlFile struct {
	path string
	data []byte
}

// decode reads the file. edition is the key that states the edition; fields holds
// for each other key a *string or a **float64. The TOML library takes keys in any
// case, passes over unknown ones and gives no place for a wrong type; so the
// parsed tree is bound here.
func (f tomlFile) decode(edition string, fields map[string]any) error {
	var tree map[string]any
	if _, err := toml.Decode(string(f.data), &tree); err != nil {
		return f.syntax(err)
	}
	switch n, ok := tree[edition].(int64); {
	case !ok:
		return &Error{Path: f.path, What: "the key " + edition + " with the edition is missing",
			Do: "see whether this is the right file"}
	case n != Edition:
		return &EditionError{Path: f.path, Edition: n}
	}
	delete(tree, edition)
	for _, key := range slices.Sorted(maps.Keys(tree)) {
		field, known := fields[key]
		if !known {
			return f.fault(&Error{Key: key, What: "the key is not known",
				Do: "remove it or spell it as the file format says"})
		}
		if want := bind(field, tree[key]); want != "" {
			return f.fault(&Error{Key: key, What: "the value is of the wrong kind", Do: "give " + want})
		}
	}
	return nil
}

// bind returns what is wanted when the value does not fit.
func bind(field, value any) (want string) {
	switch field := field.(type) {
	case *string:
		text, ok := value.(string)
		if !ok {
			return "a text in quotes"
		}
		*field = text
	case **float64:
		switch n := value.(type) {
		case float64:
			*field = &n
		case int64:
			whole := float64(n)
			*field = &whole
		default:
			return "a number"
		}
	}
	return ""
}

// fault says where in the file the key of an error stands.
func (f tomlFile) fault(e *Error) error { return at(f.path, f.lineOf(e.Key), e) }

// lineOf finds the line of a key of a flat file, or 0.
func (f tomlFile) lineOf(key string) int {
	at := regexp.MustCompile(`(?m)^[ \t]*\[?` + regexp.QuoteMeta(key) + `[ \t]*[=\]]`).FindIndex(f.data)
	if at == nil {
		return 0
	}
	return 1 + strings.Count(string(f.data[:at[0]]), "\n")
}

func (f tomlFile) syntax(err error) error {
	fault := &Error{Path: f.path, What: "not readable as TOML: " + clean(err.Error()), Do: "mend the file"}
	var parse toml.ParseError
	if errors.As(err, &parse) {
		fault.Line = parse.Position.Line
		fault.What = fmt.Sprintf("not readable as TOML: %s", clean(parse.Message))
		fault.Do = "mend that line"
	}
	return fault
}
