package picture

import (
	"strconv"
	"strings"

	"example.org/linewright/engine/job"
)

// The names under which a procedure shows values to a picture (`show` of a
// card): pulleys and knot take found and new, the places counted from the top,
// distance and tail in mm; stack takes gate_end, "centre" or "outer"; hitch
// takes undo, true where the joint is taken apart.
const (
	showFound    = "found"
	showNew      = "new"
	showDistance = "distance"
	showTail     = "tail"
	showGateEnd  = "gate_end"
	showUndo     = "undo"
	stepPattern  = "order_pattern"
)

// number reads a shown number; 0 where it is not there yet.
func number(card job.Card, name string) float64 {
	v, _ := card.Shown[name].(float64)
	return v
}

// stepID takes the step's own id out of its key: "closure.gate_turns@left" is
// step gate_turns.
func stepID(key string) string {
	key, _, _ = strings.Cut(key, "@")
	return key[strings.LastIndexAny(key, "./")+1:]
}

// turn takes the number of the turn out of a key; 0 if it is none.
func turn(key string) int {
	_, name, _ := strings.Cut(key, "@")
	n, err := strconv.Atoi(name)
	if err != nil {
		return 0
	}
	return n
}

// gateEnd finds at which end of the stack the gate is, if the card shows it.
func gateEnd(card job.Card) End {
	switch card.Shown[showGateEnd] {
	case "centre":
		return Centre
	case "outer":
		return Tip
	}
	return ""
}

// turnsIn reads a count as it is printed: "5.25 turns".
func turnsIn(answer string) (float64, bool) {
	number, unit, _ := strings.Cut(answer, " ")
	n, err := strconv.ParseFloat(number, 64)
	return n, err == nil && strings.HasPrefix(unit, "turn")
}
