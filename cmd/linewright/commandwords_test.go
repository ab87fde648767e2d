package main

import (
	"bytes"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.org/linewright/tui/prompt"
)

// Every command that the bench, line mode or a refusal tells a person to type is
// one that this program has, with the arguments that it takes.
func TestEveryCommandThatIsToldCanBeTyped(t *testing.T) {
	told := toldCommands(t)
	if len(told) < 12 {
		t.Fatalf("only %d commands were found: %q", len(told), told)
	}
	for _, words := range told {
		a := &app{in: prompt.NewInput(strings.NewReader("")), out: &bytes.Buffer{}, errs: &bytes.Buffer{}, env: func(string) string { return "" }}
		root := a.root()
		cmd, rest, err := root.Find(strings.Fields(words))
		if err != nil || cmd == root {
			t.Errorf("linewright %s: %v", words, err)
			continue
		}
		if err = cmd.ParseFlags(rest); err == nil {
			err = cmd.ValidateArgs(cmd.Flags().Args())
		}
		if err != nil || !cmd.Runnable() {
			t.Errorf("linewright %s: %v", words, err)
		}
	}
}

// inText finds a command in a sentence: from the program's name to where the
// sentence goes on. What follows another word than a command is no command.
var inText = regexp.MustCompile(`linewright ([a-z]+(?: [a-z]+)?(?: (?:[A-Z]+|x))*)`)

// prose are the words that follow the program's name in a sentence.
var prose = regexp.MustCompile(`^(needs|that|store|hold)\b`)

// toldCommands reads the commands out of the texts of the rooms that speak to a
// person; what is filled in there reads x.
func toldCommands(t *testing.T) []string {
	t.Helper()
	var out []string
	add := func(text string) {
		for _, m := range inText.FindAllStringSubmatch(text, -1) {
			if !prose.MatchString(m[1]) {
				out = append(out, m[1])
			}
		}
	}
	for _, room := range []string{"../../tui", "../../tui/prompt", "../../engine/job", "../../engine/session", "../../engine/store"} {
		files, err := filepath.Glob(filepath.Join(room, "*.go"))
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range files {
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(file, func(n ast.Node) bool {
				if call, ok := n.(*ast.CallExpr); ok {
					if sel, ok := call.Fun.(*ast.SelectorExpr); ok && sel.Sel.Name == "Command" && len(call.Args) == 1 {
						out = append(out, spoken(call.Args[0]))
						return false
					}
				}
				if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
					add(spoken(lit))
				}
				return true
			})
		}
	}
	return out
}

var verb = regexp.MustCompile(`%[a-z]`)

// spoken is a text as it is written in the source.
func spoken(e ast.Expr) string {
	switch x := e.(type) {
	case *ast.BasicLit:
		text, err := strconv.Unquote(x.Value)
		if err != nil {
			return ""
		}
		return verb.ReplaceAllString(text, "x")
	case *ast.BinaryExpr:
		return spoken(x.X) + spoken(x.Y)
	case *ast.CallExpr: // fmt.Sprintf and the like: the text comes first
		if len(x.Args) > 0 {
			if text, ok := x.Args[0].(*ast.BasicLit); ok {
				return spoken(text)
			}
		}
	}
	return "x"
}
