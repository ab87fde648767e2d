package job

import "example.org/linewright/engine/trim"

// measuringAt runs an attempt where a step of the measuring is due, everything
// before it read as it should be but for off.
func measuringAt(key string, off map[string]int, do func(*trimRig) (Event, error)) func(*rig) (Event, error) {
	return func(r *rig) (Event, error) {
		w := newTrimRig(r.t)
		w.upTo(key, off)
		return do(w)
	}
}

// typedAt types a text at a step of the measuring, others before it.
func typedAt(key string, texts ...string) func(*rig) (Event, error) {
	return measuringAt(key, nil, func(w *trimRig) (Event, error) {
		w.types(texts[:len(texts)-1]...)
		return w.try(texts[len(texts)-1])
	})
}

// sheetAt enters a sheet at a step of the measuring.
func sheetAt(key string, sheet func(*trimRig) []PathRead) func(*rig) (Event, error) {
	return measuringAt(key, nil, func(w *trimRig) (Event, error) {
		return w.enter(Entry{Kind: EnterSheet, Task: 1, Sheet: sheet(w)})
	})
}

// oneRow is row A as it should read, but for its first path.
func oneRow(w *trimRig, first string) []string {
	texts := []string{first}
	for _, ref := range trim.Refs(w.job.Plan, "A")[1:] {
		texts = append(texts, w.reads(ref, 0))
	}
	return texts
}

func init() {
	attempts = append(attempts, []attempt{
		{"row@A", typedAt("row@A", "X9 left 6450"), "X9 left 6450", PathUnknown},
		{"row@A", typedAt("row@A", "B1 left 6550"), "B1 left 6550 in row A", PathUnknown},
		{"row@A", typedAt("row@A", "A1 6450"), "A1 6450", PathSide},
		{"row@A", typedAt("row@A", "A1 left 6.450,0"), "A1 left 6.450,0", BadValue},
		{"row@A", typedAt("row@A", "9"), "9", Implausible},
		{"row@A", typedAt("row@A", "6450", "6451", ""), "two of eight paths, (Enter)", LengthsDue},
		{"row@A", measuringAt("row@A", nil, func(w *trimRig) (Event, error) {
			w.types(oneRow(w, "6465")...)
			return w.try("")
		}), "all read, one of them 15 mm long, (Enter)", LengthsAgain},
		{"row@A", measuringAt("row@A", nil, func(w *trimRig) (Event, error) {
			w.types(oneRow(w, "6465")...)
			w.types("6450", "6451")
			return w.try("")
		}), "read three times: 6465, 6450, 6451, (Enter)", LengthsOdd},
		{"row@A", measuringAt("row@A", nil, func(w *trimRig) (Event, error) {
			w.types(oneRow(w, "6450")...)
			return w.try("6450")
		}), "another number after all are read", LengthsRead},
		{"row@A", sheetAt("row@A", func(w *trimRig) []PathRead { return w.sheetOf(nil, "B") }), "a sheet of row B", SheetNone},
		{"row@A", sheetAt("row@A", func(w *trimRig) []PathRead { return w.sheetOf(map[string]int{"A2 left": 300}, "A") }), "a sheet with A2 left 300 mm long", SheetOff},
		{"row@A", sheetAt("row@A", func(w *trimRig) []PathRead {
			w.must(Entry{Kind: EnterSheet, Task: 1, Sheet: w.sheetOf(nil, "A", "B")})
			return w.sheetOf(nil, "A")
		}), "the same sheet again", SheetTwice},
		{"row@A", sheetAt("row@A", func(w *trimRig) []PathRead {
			var all []PathRead
			for range 101 {
				all = append(all, w.sheetOf(nil, "A")...)
			}
			return all
		}), "a sheet with each path 101 times", SheetLong},
		{"trimmers", sheetAt("trimmers", func(w *trimRig) []PathRead { return w.sheetOf(nil, "A") }), "a sheet where none is wanted", SheetNotHere},
		{"report", typedAt("report", "fine"), "fine, for a report", NoValueWanted},
		{"loops", typedAt("loops", ""), "(Enter), for the loops", ValueWanted},
		{"loops", typedAt("loops", "C1.2 knotted"), "C1.2 knotted", LoopUnknown},
		{"loops", typedAt("loops", "c1.2 left wrapped"), "c1.2 left wrapped", LoopLine},
		{"loops", typedAt("loops", "C1.2 left wrapped, C1.2 hitched"), "C1.2 left wrapped, C1.2 hitched", OrderTwice},
		{"changed", measuringAt("", nil, func(w *trimRig) (Event, error) {
			w.begin("after-test", w.job.Tasks[0].Add.Target)
			w.upTo("changed", nil)
			return w.try("")
		}), "paths that changed, nothing worked on, (Enter)", NothingWorked},
	}...)
}
