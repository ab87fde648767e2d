package tui

import (
	"errors"

	"example.org/linewright/engine/seal"
	"example.org/linewright/engine/store"
)

// keyAsker takes what comes back where a key had to be opened for a hold: a key
// that cannot be used has a page of its own.
type keyAsker struct {
	m    *model
	hold *holdPage
	name string
}

func (k keyAsker) refused(err error) { k.hold.noKey(k.m, k.name, err) }

// noKey says that a key cannot be used, or hands what is no matter of a key to
// the hold.
func (p *holdPage) noKey(m *model, name string, err error) {
	var sealed *seal.Error
	var file *store.Error
	if !errors.As(err, &sealed) && !errors.As(err, &file) {
		p.refused(err)
		return
	}
	what, do := explain(m.inStore(err))
	m.push(&notice{title: "Sign as " + name, head: "THE KEY OF " + name + " CANNOT BE USED", on: "back to the hold", says: []saying{
		{saysWhat, sentence(what)},
		{saysSafe, "NOT SIGNED. The answers of the second look are kept, and the hold stays closed; nothing behind it opens."},
		{saysNow, sentence(do) + " Then choose the name once more."},
		{"Or", "Lay the task down at the hold: tab, 6. It waits until the key is here."},
	}})
}
