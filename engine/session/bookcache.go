package session

import (
	"bytes"
	"encoding/json"
	"fmt"
	"runtime/debug"

	"example.org/linewright/engine/logbook"
)

// shelf is how many jobs have their pages in one file of the cache: an entry in
// one job writes the pages of few others anew.
const shelf = 100

// shelfOf names the file of the cache with the page of a job: a line that says
// who wrote it, then one line a job with what tells whether it still holds, a
// tab, and the page. Deleting it changes nothing.
func shelfOf(job int) string { return fmt.Sprintf("pages-%04d", (job-1)/shelf) }

// pagesHead says by which program pages were kept. What another one wrote is
// not trusted: it may have folded a journal in another way.
type pagesHead struct {
	Edition int    `json:"linewright_pages"`
	Program string `json:"program"`
}

// keptPage is a page with the head of the journal that it was made from. The
// page stays as it is until somebody wants it: most are of other wings.
type keptPage struct {
	Job  int    `json:"job"`
	N    int    `json:"n"`
	Hash string `json:"hash"`
	Wing string `json:"wing"`
	page []byte
}

func thisProgram() pagesHead {
	h := pagesHead{Edition: logbook.Edition}
	if info, ok := debug.ReadBuildInfo(); ok {
		h.Program = info.Main.Version
	}
	return h
}

// keep makes a page ready for the cache; false where it cannot be.
func keep(p logbook.Page, n int, hash string) (keptPage, bool) {
	data, err := json.Marshal(p)
	return keptPage{p.Job, n, hash, p.Wing, data}, err == nil
}

// read gives the page; false where it is not one.
func (k keptPage) read() (logbook.Page, bool) {
	var p logbook.Page
	err := json.Unmarshal(k.page, &p)
	return p, err == nil && p.Job == k.Job && p.Wing == k.Wing
}

// keptPages reads the pages that this program kept in one file of the cache, by
// the number of their job; none where something is wrong with the file.
func (d Desk) keptPages(name string) map[int]keptPage {
	data, err := d.Store.Cached(name)
	if err != nil {
		return nil
	}
	first, rest, _ := bytes.Cut(data, []byte("\n"))
	var head pagesHead
	if json.Unmarshal(first, &head) != nil || head != thisProgram() {
		return nil
	}
	kept := map[int]keptPage{}
	for line := range bytes.Lines(rest) {
		about, page, _ := bytes.Cut(line, []byte("\t"))
		k := keptPage{page: page}
		if json.Unmarshal(about, &k) != nil {
			return nil
		}
		kept[k.Job] = k
	}
	return kept
}

// keepPages writes one file of the cache. That it cannot be written is no reason
// to fail: it only costs time.
func (d Desk) keepPages(name string, pages []keptPage) {
	head, err := json.Marshal(thisProgram())
	if err != nil {
		return
	}
	file := append(head, '\n')
	for _, k := range pages {
		about, err := json.Marshal(k)
		if err != nil {
			return
		}
		file = append(append(file, about...), '\t')
		file = append(append(file, bytes.TrimSpace(k.page)...), '\n')
	}
	_ = d.Store.WriteCached(name, file)
}
