package record

import (
	"bytes"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
	"sync"
)

// sumsOf renders SHA256SUMS in the form of sha256sum, in the order of names.
func sumsOf(sums map[string]string) []byte {
	var b bytes.Buffer
	for _, name := range slices.Sorted(maps.Keys(sums)) {
		fmt.Fprintf(&b, "%s  %s\n", sums[name], name)
	}
	return b.Bytes()
}

var sumForm = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^([0-9a-f]{64})  ([!-~]+)$`) })

// parseSums reads SHA256SUMS. It gives the sums by name, and the numbers of
// the lines that are not in the form that sumsOf writes. Lines may stand in
// any order: who adds a signature may add its line at the end.
func parseSums(data []byte) (sums map[string]string, bad []int) {
	sums = map[string]string{}
	text, ended := strings.CutSuffix(string(data), "\n")
	lines := strings.Split(text, "\n")
	for i, l := range lines {
		m := sumForm().FindStringSubmatch(l)
		if m == nil || sums[m[2]] != "" || i == len(lines)-1 && !ended {
			bad = append(bad, i+1)
			continue
		}
		sums[m[2]] = m[1]
	}
	return sums, bad
}

// sortedNames gives the keys of a map in order.
func sortedNames[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }
