package session

import (
	"sync"

	"example.org/linewright/engine/logbook"
	"example.org/linewright/engine/store"
)

// place is where the page of one job goes.
type place struct {
	head store.JobHead
	kept *keptPage     // what the cache has; nil: nothing that still holds
	page *logbook.Page // nil: not wanted, or to be made
	anew bool
}

// pages gives the pages of the wings that are wanted, and keeps those that had
// to be made.
func (d Desk) pages(wanted func(wing string) bool, progress func(done, of int)) ([]logbook.Page, error) {
	heads, err := d.Store.JobHeads()
	if err != nil {
		return nil, err
	}
	places := make([]place, len(heads))
	for i, h := range heads {
		places[i].head = h
	}
	shelves := split(places)
	var reading sync.WaitGroup
	for _, s := range shelves {
		reading.Go(func() { d.fromCache(s, wanted) })
	}
	reading.Wait()
	d.makeAnew(places, progress)
	for _, s := range shelves {
		d.toCache(s)
	}
	pages := make([]logbook.Page, 0, len(places))
	for _, p := range places {
		if p.page != nil && wanted(p.page.Wing) {
			pages = append(pages, *p.page)
		}
	}
	return pages, nil
}

// split cuts the places, which are in the order of their jobs, where another
// file of the cache begins.
func split(places []place) [][]place {
	var out [][]place
	begin := 0
	for i := range places {
		if i+1 == len(places) || shelfOf(places[i].head.No) != shelfOf(places[i+1].head.No) {
			out = append(out, places[begin:i+1])
			begin = i + 1
		}
	}
	return out
}

// fromCache fills in what the cache has of one file's jobs.
func (d Desk) fromCache(places []place, wanted func(wing string) bool) {
	kept := d.keptPages(shelfOf(places[0].head.No))
	for i := range places {
		p := &places[i]
		k, ok := kept[p.head.No]
		switch {
		case p.head.Err != nil:
			p.page = &logbook.Page{Job: p.head.No, Fault: p.head.Err.Error()}
		case !ok || k.N != p.head.Head.N || k.Hash != p.head.Head.Hash:
		case !wanted(k.Wing):
			p.kept = &k
		default:
			if page, ok := k.read(); ok {
				p.kept, p.page = &k, &page
			}
		}
	}
}

// makeAnew makes the pages that the cache did not have. One with a fault is not
// kept: what was missing can come back.
func (d Desk) makeAnew(places []place, progress func(done, of int)) {
	var missing []*place
	for i := range places {
		if p := &places[i]; p.page == nil && p.kept == nil {
			missing = append(missing, p)
		}
	}
	for done, p := range missing {
		if progress != nil {
			progress(done, len(missing))
		}
		page := d.page(p.head.No)
		p.page = &page
		if page.Fault != "" {
			continue
		}
		if k, ok := keep(page, p.head.Head.N, p.head.Head.Hash); ok {
			p.kept, p.anew = &k, true
		}
	}
	if progress != nil && len(missing) > 0 {
		progress(len(missing), len(missing))
	}
}

// toCache writes one file anew if a page in it was made.
func (d Desk) toCache(places []place) {
	var keep []keptPage
	anew := false
	for _, p := range places {
		anew = anew || p.anew
		if p.kept != nil {
			keep = append(keep, *p.kept)
		}
	}
	if anew {
		d.keepPages(shelfOf(places[0].head.No), keep)
	}
}
