package picture

import (
	"slices"
	"strconv"
	"strings"

	"example.org/linewright/engine/job"
)

// The ids of steps whose answers a picture shows, if they stand on its card:
// the place of a pulley counted from the top, and the end of the stack at
// which the gate is.
const (
	stepFound   = "place_found"
	stepNew     = "place_new"
	stepGateEnd = "gate_end"
	stepPattern = "order_pattern"
)

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

// chosen gives which option of a step was chosen, from 1; 0 if none was yet.
func chosen(card job.Card, step string) int {
	for _, f := range card.Fields {
		if stepID(f.Key) == step && f.State == job.Ready {
			return 1 + slices.Index(f.Options, f.Answer)
		}
	}
	return 0
}

// gateEnd finds at which end of the stack the gate is, if the card says so.
func gateEnd(card job.Card) End {
	for _, f := range card.Fields {
		if !strings.HasPrefix(stepID(f.Key), stepGateEnd) || f.State != job.Ready {
			continue
		}
		for _, end := range []End{Centre, Tip} {
			if strings.Contains(f.Answer, string(end)) {
				return end
			}
		}
	}
	return ""
}

// turnsIn reads a count as it is printed: "5.25 turns".
func turnsIn(answer string) (float64, bool) {
	number, unit, _ := strings.Cut(answer, " ")
	n, err := strconv.ParseFloat(number, 64)
	return n, err == nil && strings.HasPrefix(unit, "turn")
}
