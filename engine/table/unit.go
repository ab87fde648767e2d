package table

import "slices"

// perUnit is what a unit of length has in mm, as a number for comparing only.
var perUnit = map[string]float64{"mm": 1, "cm": 10, "m": 1000, "in": 25.4, "ft": 304.8}

// The lengths in mm that a line and a path can have; ParsePlan judges them.
const (
	minLength = 50
	maxLine   = 12000
	maxPath   = 30000
)

// leastLongest is what the longest line of any table reaches, in mm: else 7.2 m
// could be 7.2 cm. Common practice, no source.
const leastLongest = 300

// metric are the units that are not always named.
var metric = []string{"mm", "cm", "m"}

// onlyUnit gives the unit that the numbers of a column have, where only one
// makes them lengths that can be: "" where more than one does, or none.
func onlyUnit(values []float64, most float64) string {
	found := ""
	for _, unit := range metric {
		switch share := fitting(values, unit, most); {
		case share >= 0.8 && found == "":
			found = unit
		case share >= 0.5:
			return ""
		}
	}
	return found
}

// fitting gives the share of the numbers that are lengths which can be.
func fitting(values []float64, unit string, most float64) float64 {
	fit, longest := 0, 0.0
	for _, v := range values {
		mm := v * perUnit[unit]
		longest = max(longest, mm)
		if mm >= minLength && mm <= most {
			fit++
		}
	}
	if longest < leastLongest {
		return 0
	}
	return float64(fit) / float64(len(values))
}

func fitsLength(values []float64) bool {
	return slices.ContainsFunc(metric, func(unit string) bool { return fitting(values, unit, maxPath) >= 0.8 })
}

// unit gives a column its unit: by its title, or by what its numbers can be.
func (g *guess) unit(i int) {
	c, f := &g.cols[i], g.facts[i]
	switch {
	case c.Role.isLength():
		c.Unit = f.title.unit
		if c.Unit == "" && len(f.values) > 0 {
			c.Unit = onlyUnit(f.values, mostOf(c.Role))
		}
		if perUnit[c.Unit] == 0 {
			c.Unit = ""
		}
	case c.Role == RoleDiameter:
		c.Unit = "mm"
		if perUnit[f.title.unit] != 0 {
			c.Unit = f.title.unit
		}
	case c.Role == RoleStrength && perUnit[f.title.unit] == 0:
		c.Unit = f.title.unit
	}
}

func mostOf(r Role) float64 {
	if r.isPath() {
		return maxPath
	}
	return maxLine
}
