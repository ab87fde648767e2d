package wing

import (
	"crypto/sha256"
	"slices"
	"sync"
)

// mostKnown is how many plans are kept: those of the wings that a workshop goes
// back and forth between.
const mostKnown = 24

// memory keeps what was read last. It can be kept by the bytes alone, since
// reading depends on nothing else and nothing changes a plan afterwards.
var memory struct {
	sync.Mutex
	order [][sha256.Size]byte // the oldest first
	by    map[[sha256.Size]byte]func() (*Plan, error)
}

// Known gives a plan like ParsePlan, and the same one again while the name and
// the bytes are the same, without reading them anew. It may be called by several
// goroutines at once; what it gives is shared and must not be changed.
func Known(data []byte, name string) (*Plan, error) {
	sum := sha256.Sum256(slices.Concat([]byte(name), []byte{0}, data))
	memory.Lock()
	read, ok := memory.by[sum]
	if !ok {
		own := slices.Clone(data)
		read = sync.OnceValues(func() (*Plan, error) { return ParsePlan(own, name) })
		keep(sum, read)
	}
	memory.Unlock()
	plan, err := read()
	if faults, ok := err.(Faults); ok {
		return plan, slices.Clone(faults) // whoever gets them may put them in order
	}
	return plan, err
}

// keep puts a plan in, and the oldest out where there are too many.
func keep(sum [sha256.Size]byte, read func() (*Plan, error)) {
	if memory.by == nil {
		memory.by = map[[sha256.Size]byte]func() (*Plan, error){}
	}
	if len(memory.order) == mostKnown {
		delete(memory.by, memory.order[0])
		memory.order = memory.order[1:]
	}
	memory.by[sum] = read
	memory.order = append(memory.order, sum)
}
