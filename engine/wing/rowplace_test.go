package wing

import "testing"

const rowsAB = `
[[row]]
name = "A"
chord_mm = 0
load_weight = 0.625
source = "invented"

[[row]]
name = "B"
chord_mm = 600.5
load_weight = 0.375
source = "invented, too"
`

func TestRowPlaces(t *testing.T) {
	p := parse(t, small(t)+rowsAB)
	equal(t, "places", len(p.Places), 2)
	equal(t, "A", p.Places[0], RowPlace{"A", 0, 0.625, "invented"})
	equal(t, "B", p.Places[1], RowPlace{"B", 600500, 0.375, "invented, too"})
	equal(t, "without", len(parse(t, small(t)).Places), 0)
	again := parse(t, string(p.Draft().TOML()))
	equal(t, "written and read again", whole(again), whole(p))
}

// Places alone serve too: then each row counts alike.
func TestRowPlacesWithoutLoads(t *testing.T) {
	p := parse(t, small(t)+"[[row]]\nname = 'B'\nchord_mm = 600\nsource = 's'\n[[row]]\nname = 'A'\nchord_mm = 10\nsource = 's'\n")
	equal(t, "B", p.Places[0], RowPlace{Row: "B", At: 600 * mm, Source: "s"})
	equal(t, "written and read again", whole(parse(t, string(p.Draft().TOML()))), whole(p))
}

func TestMainRow(t *testing.T) {
	for row, want := range map[string]bool{"A": true, "A'": true, "E": true, "S": false, "Br": false, "a": false, "": false} {
		equal(t, row, MainRow(row), want)
	}
}
