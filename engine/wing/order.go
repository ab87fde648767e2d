package wing

// Crossed names every pair of codes that stands in the other order in second
// than in first, as {earlier in first, later in first}. Codes that only one of
// the lists holds are left out. Both lists run from the centre outward.
func Crossed(first, second []string) [][2]string {
	place := make(map[string]int, len(second))
	for i, code := range second {
		place[code] = i
	}
	var pairs [][2]string
	for i, a := range first {
		for _, b := range first[i+1:] {
			pa, okA := place[a]
			pb, okB := place[b]
			if okA && okB && pa > pb {
				pairs = append(pairs, [2]string{a, b})
			}
		}
	}
	return pairs
}

// Mirrored says that second is first read backwards, which is how an order
// looks when the link is seen from its other side.
func Mirrored(first, second []string) bool {
	if len(first) < 2 || len(first) != len(second) {
		return false
	}
	for i, code := range first {
		if second[len(second)-1-i] != code {
			return false
		}
	}
	return true
}
