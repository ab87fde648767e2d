package procedure

import (
	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/parser"
)

// branch is an expression of the form `condition ? yes : no` in its three
// parts: a value that only the other way needs may be absent.
type branch struct{ when, yes, no *Expr }

// branched splits an expression that was compiled already; nil where it is not
// of that form.
func branched(e *Expr, typeOf func(name string) (Type, bool)) (*branch, error) {
	tree, err := parser.Parse(e.Text)
	if err != nil {
		return nil, err
	}
	n, ok := tree.Node.(*ast.ConditionalNode)
	if !ok {
		return nil, nil
	}
	b := &branch{}
	for _, part := range []struct {
		to   **Expr
		node ast.Node
		want Type
	}{{&b.when, n.Cond, Truth}, {&b.yes, n.Exp1, e.Result}, {&b.no, n.Exp2, e.Result}} {
		if *part.to, err = compile(part.node.String(), part.want, typeOf); err != nil {
			return nil, err
		}
	}
	return b, nil
}

func (b *branch) eval(look func(name string) (any, bool)) (any, error) {
	v, err := b.when.eval(look)
	switch {
	case err != nil:
		return nil, err
	case v == true:
		return b.yes.eval(look)
	}
	return b.no.eval(look)
}
