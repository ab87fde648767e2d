package procedure

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"sort"
	"strings"

	"github.com/expr-lang/expr"
	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/parser"
	"github.com/expr-lang/expr/vm"
)

// Type is the type of a value in an expression.
type Type string

// The types of values. A length is a Number in mm, a force in N, a torque in
// N·m, turns and counts are plain.
const (
	Number  Type = "number"
	Word    Type = "text"
	List    Type = "list"    // of texts
	Numbers Type = "numbers" // of numbers
	Truth   Type = "truth"
)

var zero = map[Type]any{Number: 0.0, Word: "", List: []string{}, Numbers: []float64{}, Truth: false}

// ErrAbsent is wrapped by an evaluation that needs a value nobody has given
// yet, or that became void.
var ErrAbsent = errors.New("a value is not there yet")

// errUnknown is wrapped where an expression reads what is no value there.
var errUnknown = errors.New("is not a value known here")

// absentError names the value that was wanted.
type absentError struct{ name string }

func (e *absentError) Error() string { return e.name + ": " + ErrAbsent.Error() }
func (e *absentError) Unwrap() error { return ErrAbsent }

// hasPrefix marks the identifiers that stand for has(name) after rewriting.
const hasPrefix = "has:"

// allowed are the only functions that an expression may call; the library's
// other built-ins reach clocks, text formats and conversions that a
// procedure has no business with.
var allowed = []string{"all", "any", "min", "max", "count", "abs", "len"}

// Expr is one checked expression. Names are rewritten to plain identifiers:
// `twin.tail` becomes the one name "twin.tail".
type Expr struct {
	Text   string
	Result Type

	uses    []Use
	guards  []string // names asked for by has()
	program *vm.Program
	branch  *branch
}

// Use is a name that an expression reads.
type Use struct {
	Name    string
	Guarded bool // read only where has(Name) was found true
}

// Uses gives the names that the expression reads, in order of name.
func (e *Expr) Uses() []Use { return e.uses }

// reads gives every name that the expression asks for, in has() too.
func (e *Expr) reads() []string {
	out := append([]string(nil), e.guards...)
	for _, u := range e.uses {
		out = append(out, u.Name)
	}
	return out
}

// flatten turns member access on a name into one identifier and has(x) into
// the identifier "has:x".
type flatten struct{}

func (flatten) Visit(node *ast.Node) {
	switch n := (*node).(type) {
	case *ast.MemberNode:
		head, ok := n.Node.(*ast.IdentifierNode)
		field, ok2 := n.Property.(*ast.StringNode)
		if ok && ok2 {
			ast.Patch(node, &ast.IdentifierNode{Value: head.Value + "." + field.Value})
		}
	case *ast.CallNode:
		callee, ok := n.Callee.(*ast.IdentifierNode)
		if !ok || callee.Value != "has" || len(n.Arguments) != 1 {
			return
		}
		if arg, ok := n.Arguments[0].(*ast.IdentifierNode); ok {
			ast.Patch(node, &ast.IdentifierNode{Value: hasPrefix + arg.Value})
		}
	}
}

// names lists the names that an expression reads, with their guards. It does
// not need to know what the names are.
func names(text string) ([]Use, error) {
	tree, err := parse(text)
	if err != nil {
		return nil, err
	}
	found := map[string]bool{} // name -> guarded wherever it is read
	collect(tree.Node, nil, func(name string, guarded bool) {
		if before, seen := found[name]; seen {
			guarded = guarded && before
		}
		found[name] = guarded
	})
	uses := make([]Use, 0, len(found))
	for name, guarded := range found {
		uses = append(uses, Use{name, guarded})
	}
	sort.Slice(uses, func(i, j int) bool { return uses[i].Name < uses[j].Name })
	return uses, nil
}

// maxText is the longest expression in bytes: brackets in brackets would
// otherwise use up the stack of the parser.
const maxText = 500

// parse reads an expression and flattens its names.
func parse(text string) (*parser.Tree, error) {
	if len(text) > maxText {
		return nil, fmt.Errorf("the expression has %d characters, at most %d are read", len(text), maxText)
	}
	tree, err := parser.Parse(text)
	if err != nil {
		return nil, readable(text, err)
	}
	ast.Walk(&tree.Node, flatten{})
	ast.Walk(&tree.Node, visitor(func(n ast.Node) {
		if b, ok := n.(*ast.BinaryNode); ok && slices.Contains(barred, b.Operator) {
			err = fmt.Errorf("the operator %s is not for procedures, in %q", b.Operator, text)
		}
	}))
	return tree, err
}

// barred are the operators that no bench needs: loops in loops over ranges
// would never end, and powers leave the range of numbers unseen.
var barred = []string{"..", "**", "^", "%", "matches"}

// checked are the operators that can leave the range of numbers. A comparison
// would hide it: an infinite quotient is greater than any limit.
var checked = map[string]string{"/": "quotient", "*": "product"}

// guard turns those operators into calls that fail instead.
type guard struct{}

func (guard) Visit(node *ast.Node) {
	b, ok := (*node).(*ast.BinaryNode)
	if !ok || checked[b.Operator] == "" {
		return
	}
	ast.Patch(node, &ast.CallNode{Callee: &ast.IdentifierNode{Value: checked[b.Operator]}, Arguments: []ast.Node{b.Left, b.Right}})
}

// guarded gives such a call its function.
func guarded(name string, of func(a, b float64) float64) expr.Option {
	return expr.Function(name, func(args ...any) (any, error) {
		v := of(float(args[0]), float(args[1]))
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return nil, fmt.Errorf("the %s of %v and %v is no number", name, args[0], args[1])
		}
		return v, nil
	}, new(func(float64, float64) float64), new(func(int, float64) float64), new(func(float64, int) float64), new(func(int, int) float64))
}

// float takes a number of the library's two kinds; the checker let no other in.
func float(v any) float64 {
	if n, ok := v.(int); ok {
		return float64(n)
	}
	return v.(float64)
}

// collect walks a tree and calls saw for each name that is read; known holds
// the names that are certainly there at this place.
func collect(node ast.Node, known []string, saw func(string, bool)) {
	switch n := node.(type) {
	case *ast.IdentifierNode:
		if !strings.HasPrefix(n.Value, hasPrefix) {
			saw(n.Value, slices.Contains(known, n.Value))
		}
	case *ast.BinaryNode:
		collect(n.Left, known, saw)
		switch n.Operator {
		case "&&", "and":
			known = append(known[:len(known):len(known)], there(n.Left, true)...)
		case "||", "or":
			known = append(known[:len(known):len(known)], there(n.Left, false)...)
		}
		collect(n.Right, known, saw)
	case *ast.ConditionalNode:
		collect(n.Cond, known, saw)
		yes := append(known[:len(known):len(known)], there(n.Cond, true)...)
		no := append(known[:len(known):len(known)], there(n.Cond, false)...)
		collect(n.Exp1, yes, saw)
		collect(n.Exp2, no, saw)
	case *ast.UnaryNode:
		collect(n.Node, known, saw)
	case *ast.MemberNode:
		collect(n.Node, known, saw)
		collect(n.Property, known, saw)
	case *ast.BuiltinNode:
		for _, a := range n.Arguments {
			collect(a, known, saw)
		}
	case *ast.CallNode:
		collect(n.Callee, known, saw)
		for _, a := range n.Arguments {
			collect(a, known, saw)
		}
	case *ast.PredicateNode:
		collect(n.Node, known, saw)
	case *ast.ArrayNode:
		for _, a := range n.Nodes {
			collect(a, known, saw)
		}
	}
}

// there gives the names that must be there if node turned out as outcome.
func there(node ast.Node, outcome bool) []string {
	switch n := node.(type) {
	case *ast.IdentifierNode:
		if outcome && strings.HasPrefix(n.Value, hasPrefix) {
			return []string{strings.TrimPrefix(n.Value, hasPrefix)}
		}
	case *ast.UnaryNode:
		if n.Operator == "!" || n.Operator == "not" {
			return there(n.Node, !outcome)
		}
	case *ast.BinaryNode:
		and := n.Operator == "&&" || n.Operator == "and"
		or := n.Operator == "||" || n.Operator == "or"
		if and && outcome || or && !outcome {
			return append(there(n.Left, outcome), there(n.Right, outcome)...)
		}
	}
	return nil
}

// compile checks an expression against the types of the names it may read.
// Errors are one line and name the place in the expression.
func compile(text string, want Type, typeOf func(name string) (Type, bool)) (*Expr, error) {
	uses, err := names(text)
	if err != nil {
		return nil, err
	}
	env := map[string]any{}
	for _, u := range uses {
		t, ok := typeOf(u.Name)
		if !ok {
			return nil, fmt.Errorf("%q %w", u.Name, errUnknown)
		}
		env[u.Name], env[hasPrefix+u.Name] = zero[t], false
	}
	asked := guards(text)
	for _, n := range asked {
		if _, ok := typeOf(n); !ok {
			return nil, fmt.Errorf("%q in has() %w", n, errUnknown)
		}
		env[hasPrefix+n] = false
	}
	opts := []expr.Option{
		expr.Env(env), expr.Patch(flatten{}), expr.Patch(guard{}), expr.DisableAllBuiltins(), expr.MaxNodes(200),
		guarded("quotient", func(a, b float64) float64 { return a / b }),
		guarded("product", func(a, b float64) float64 { return a * b }),
	}
	for _, b := range allowed {
		opts = append(opts, expr.EnableBuiltin(b))
	}
	switch want {
	case Truth:
		opts = append(opts, expr.AsBool())
	case Number:
		opts = append(opts, expr.AsFloat64())
	}
	program, err := expr.Compile(text, opts...)
	if err != nil {
		return nil, readable(text, err)
	}
	if want == "" {
		want = typeOfResult(program)
	}
	e := &Expr{Text: text, Result: want, uses: uses, guards: asked, program: program}
	e.branch, err = branched(e, typeOf)
	return e, err
}

// typeOfResult names the type of an expression that may give any.
func typeOfResult(program *vm.Program) Type {
	switch t := program.Node().Type(); {
	case t == nil:
		return Word
	case t.Kind() == reflect.Bool:
		return Truth
	case t.Kind() == reflect.Float64 || t.Kind() == reflect.Int:
		return Number
	case t.Kind() == reflect.Slice:
		return List
	}
	return Word
}

// guards lists the names that stand in has() anywhere in the text.
func guards(text string) []string {
	tree, err := parse(text)
	if err != nil {
		return nil
	}
	var found []string
	ast.Walk(&tree.Node, visitor(func(n ast.Node) {
		if id, ok := n.(*ast.IdentifierNode); ok && strings.HasPrefix(id.Value, hasPrefix) {
			found = append(found, strings.TrimPrefix(id.Value, hasPrefix))
		}
	}))
	return found
}

type visitor func(ast.Node)

func (v visitor) Visit(node *ast.Node) { v(*node) }

// readable makes one line of the library's error: column counted from 1.
func readable(text string, err error) error {
	var fe *file.Error
	if errors.As(err, &fe) {
		return fmt.Errorf("%s, at column %d of %q", fe.Message, fe.Column+1, text)
	}
	return fmt.Errorf("%s in %q", strings.SplitN(err.Error(), "\n", 2)[0], text)
}

// eval runs the expression; look gives a name's value, or false where it is
// absent. An absent value that is not guarded gives ErrAbsent. A number that
// is not finite is a fault, never a pass.
func (e *Expr) eval(look func(name string) (any, bool)) (any, error) {
	if e.branch != nil {
		return e.branch.eval(look)
	}
	env := map[string]any{}
	for _, u := range e.uses {
		v, ok := look(u.Name)
		if !ok && !u.Guarded {
			return nil, &absentError{u.Name}
		}
		env[u.Name], env[hasPrefix+u.Name] = v, ok
	}
	for _, n := range e.guards {
		_, ok := look(n)
		env[hasPrefix+n] = ok
	}
	out, err := expr.Run(e.program, env)
	if err != nil {
		return nil, readable(e.Text, err)
	}
	if n, ok := out.(int); ok {
		out = float64(n)
	}
	if f, ok := out.(float64); ok && (math.IsNaN(f) || math.IsInf(f, 0)) {
		return nil, fmt.Errorf("%q gives no number", e.Text)
	}
	return out, nil
}

// Absent reports whether an evaluation failed only for want of a value.
func Absent(err error) bool { return errors.Is(err, ErrAbsent) }
