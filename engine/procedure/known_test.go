package procedure

import (
	"fmt"
	"strings"
	"sync"
	"testing"
)

func TestKnownReadsTheSameFilesOnce(t *testing.T) {
	files := func() []File { return []File{chain("known")} }
	first, err := Known(files())
	if err != nil {
		t.Fatal(err)
	}
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			if again, err := Known(files()); again != first || err != nil {
				t.Errorf("the same files give another library: %v", err)
			}
		})
	}
	all.Wait()
	renamed := files()
	renamed[0].Name = "other.toml"
	if other, err := Known(renamed); other == first || err != nil {
		t.Errorf("another name gives the library of the first: %v", err)
	}
	changed := files()
	changed[0].Data = append(changed[0].Data, "# more\n"...)
	if other, err := Known(changed); other == first || err != nil {
		t.Errorf("other bytes give the library of the first: %v", err)
	}
}

func TestWhatIsKnownStaysAsItWasRead(t *testing.T) {
	files := []File{chain("stays")}
	was := string(files[0].Data)
	lib, err := Known(files)
	if err != nil {
		t.Fatal(err)
	}
	clear(files[0].Data)
	p, _ := lib.Get("stays")
	if string(p.Bytes()) != was {
		t.Error("a change of the bytes that were given reaches the library")
	}
}

func TestKnownGivesTheFaultsEachTime(t *testing.T) {
	files := []File{chain("lost", "nowhere")}
	for range 2 {
		_, err := Known(files)
		if err == nil || !strings.Contains(err.Error(), `there is no procedure "nowhere"`) {
			t.Errorf("the faults are %v", err)
		}
	}
}

func TestOnlySoManyAreKept(t *testing.T) {
	first, _ := Known([]File{chain("first")})
	for i := range mostKnown {
		if _, err := Known([]File{chain(fmt.Sprintf("more%d", i))}); err != nil {
			t.Fatal(err)
		}
	}
	if len(memory.by) != mostKnown || len(memory.order) != mostKnown {
		t.Errorf("%d sets are kept, %d in order; want %d", len(memory.by), len(memory.order), mostKnown)
	}
	if again, _ := Known([]File{chain("first")}); again == first {
		t.Error("the oldest set is still kept")
	}
}
