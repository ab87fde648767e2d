package trim

import (
	"slices"

	"example.org/linewright/engine/metrology"
	"example.org/linewright/engine/quantity"
	"example.org/linewright/engine/wing"
)

// referenceRow is the row that the others are compared with.
const referenceRow = "A"

// bothFirst is how a row is reported: of both sides, then each side.
var bothFirst = []wing.Side{"", wing.Left, wing.Right}

func (k *reckoner) judgeRows() error {
	limit := um(k.report.Limits.Rows.MM)
	for _, row := range k.order {
		for _, side := range bothFirst {
			own := k.rows[rowSide{row, side}]
			if len(own) == 0 {
				continue
			}
			mean, u := k.mean(own)
			t := RowTrim{Row: row, Side: side, MeanMM: mean.MM(), UMM: u.MM(), Paths: len(own), Of: k.all[row]}
			if side == "" {
				t.Of *= len(wing.Sides)
			}
			t.Apart = !k.paths[own[0]].main
			reference := k.rows[rowSide{referenceRow, side}]
			if !t.Apart && row != referenceRow && len(reference) > 0 {
				value, u := k.difference(own, reference)
				j, err := metrology.Judge(value, u, limit)
				if err != nil {
					return err
				}
				f := finding(j)
				t.Against = &f
			}
			k.report.Rows = append(k.report.Rows, t)
		}
	}
	return nil
}

// difference gives the mean of one group of paths minus that of another.
func (k *reckoner) difference(of, from []int) (value, u quantity.Length) {
	ws := slices.Concat(k.weigh(of, float64(len(from))), k.weigh(from, -float64(len(of))))
	return k.sum(ws, float64(len(of)*len(from)))
}
