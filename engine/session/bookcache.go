package session

import (
	"bytes"
	"encoding/json"
	"runtime/debug"

	"example.org/linewright/engine/logbook"
	"example.org/linewright/engine/store"
)

// pagesName is the file of the cache with the pages of all jobs: a line that
// says who wrote it, then one line a job. Deleting it changes nothing.
const pagesName = "pages"

// pagesHead says by which program pages were kept. What another one wrote is
// not trusted: it may have folded a journal in another way.
type pagesHead struct {
	Edition int    `json:"linewright_pages"`
	Program string `json:"program"`
}

// keptPage is a page with the head of the journal that it was made from.
type keptPage struct {
	N    int          `json:"n"`
	Hash string       `json:"hash"`
	Page logbook.Page `json:"page"`
}

func thisProgram() pagesHead {
	h := pagesHead{Edition: logbook.Edition}
	if info, ok := debug.ReadBuildInfo(); ok {
		h.Program = info.Main.Version
	}
	return h
}

// keptPages reads the pages that this program kept, by the number of their job;
// none where something is wrong with them.
func (d Desk) keptPages() map[int]keptPage {
	data, err := d.Store.Cached(pagesName)
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
		var k keptPage
		if json.Unmarshal(line, &k) != nil {
			return nil
		}
		kept[k.Page.Job] = k
	}
	return kept
}

// keepPages keeps all pages that could be made. One with a fault is made anew
// each time: what was missing can come back. That they cannot be kept is no
// reason to fail: it only costs time.
func (d Desk) keepPages(heads []store.JobHead, pages []logbook.Page) {
	var file bytes.Buffer
	enc := json.NewEncoder(&file)
	enc.SetEscapeHTML(false)
	if enc.Encode(thisProgram()) != nil {
		return
	}
	for i, p := range pages {
		if p.Fault == "" && enc.Encode(keptPage{heads[i].Head.N, heads[i].Head.Hash, p}) != nil {
			return
		}
	}
	_ = d.Store.WriteCached(pagesName, file.Bytes())
}
