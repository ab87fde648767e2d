package procedure

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"slices"
	"sync"

	"example.org/linewright/engine/source"
)

// mostKnown is how many sets of files are kept: what is offered, and what the
// tasks of a few jobs have pinned.
const mostKnown = 24

// memory keeps what was read last. It can be kept by the bytes alone, since
// reading depends on nothing else and nothing changes a library afterwards.
var memory struct {
	sync.Mutex
	order [][sha256.Size]byte // the oldest first
	by    map[[sha256.Size]byte]func() (*Library, error)
}

// Known gives the library of these files like NewLibrary, and the same one
// again while the files are the same in name and bytes, without reading them
// anew. It may be called by several goroutines at once; what it gives is shared
// and must not be changed.
func Known(files []File) (*Library, error) {
	sum := fingerprint(files)
	memory.Lock()
	read, ok := memory.by[sum]
	if !ok {
		read = sync.OnceValues(func() (*Library, error) { return NewLibrary(own(files)) })
		keep(sum, read)
	}
	memory.Unlock()
	lib, err := read()
	if faults, ok := err.(source.Faults); ok {
		return lib, slices.Clone(faults) // whoever gets them may put them in order
	}
	return lib, err
}

// keep puts a set of files in, and the oldest out where there are too many.
func keep(sum [sha256.Size]byte, read func() (*Library, error)) {
	if memory.by == nil {
		memory.by = map[[sha256.Size]byte]func() (*Library, error){}
	}
	if len(memory.order) == mostKnown {
		delete(memory.by, memory.order[0])
		memory.order = memory.order[1:]
	}
	memory.by[sum] = read
	memory.order = append(memory.order, sum)
}

// own copies the files, so that no later change of theirs reaches the library.
func own(files []File) []File {
	out := slices.Clone(files)
	for i := range out {
		out[i].Data = bytes.Clone(out[i].Data)
	}
	return out
}

// fingerprint is the same for the same names and bytes only: the lengths keep
// one name or file from running into the next.
func fingerprint(files []File) [sha256.Size]byte {
	var text []byte
	for _, f := range files {
		text = binary.AppendUvarint(text, uint64(len(f.Name)))
		text = append(text, f.Name...)
		sum := sha256.Sum256(f.Data)
		text = append(text, sum[:]...)
	}
	return sha256.Sum256(text)
}
