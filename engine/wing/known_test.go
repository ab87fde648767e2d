package wing

import (
	"fmt"
	"os"
	"slices"
	"sync"
	"testing"
)

func TestKnownReadsTheSamePlanOnce(t *testing.T) {
	data, err := os.ReadFile("testdata/small.toml")
	if err != nil {
		t.Fatal(err)
	}
	first, err := Known(data, "known.toml")
	if err != nil {
		t.Fatal(err)
	}
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			if again, err := Known(slices.Clone(data), "known.toml"); again != first || err != nil {
				t.Errorf("the same bytes give another plan: %v", err)
			}
		})
	}
	all.Wait()
	if other, err := Known(append(slices.Clone(data), "# more\n"...), "known.toml"); other == first || err != nil {
		t.Errorf("other bytes give the plan of the first: %v", err)
	}
	for i := range mostKnown {
		if _, err := Known(data, fmt.Sprintf("more%d.toml", i)); err != nil {
			t.Fatal(err)
		}
	}
	if len(memory.by) != mostKnown || len(memory.order) != mostKnown {
		t.Errorf("%d plans are kept, %d in order; want %d", len(memory.by), len(memory.order), mostKnown)
	}
	if again, _ := Known(data, "known.toml"); again == first {
		t.Error("the oldest plan is still kept")
	}
}

func TestKnownGivesTheFaultsOfAPlanEachTime(t *testing.T) {
	_, want := ParsePlan([]byte("linewright_plan = 1\n"), "x.toml")
	for range 2 {
		_, err := Known([]byte("linewright_plan = 1\n"), "x.toml")
		if err == nil || err.Error() != want.Error() {
			t.Errorf("the faults are %v, want %v", err, want)
		}
		if faults, ok := err.(Faults); ok {
			clear(faults)
		}
	}
}
