package tui

import (
	"fmt"
)

// strikeFindings lists the findings of a task that can be withdrawn.
func (m *model) strikeFindings(task int) []struckItem {
	var out []struckItem
	for _, f := range m.session.Job().Findings() {
		if f.Task == task && f.Line > 0 && f.Struck == "" {
			out = append(out, struckItem{f.Line, fmt.Sprintf("finding, entry %d: %s", f.Line, f.Words())})
		}
	}
	return out
}
