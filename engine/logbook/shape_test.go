package logbook

import (
	"fmt"
	"os"
	"reflect"
	"strings"
	"testing"
)

// A cache that another edition wrote is made anew, so an edition stands for one
// shape: when this fails, raise Edition and write the shape with -update.
func TestTheEditionStandsForOneShape(t *testing.T) {
	var s strings.Builder
	fmt.Fprintf(&s, "edition %d\n", Edition)
	shape(&s, reflect.TypeFor[Page](), map[reflect.Type]bool{})
	if *update {
		if err := os.WriteFile("testdata/page.shape", []byte(s.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile("testdata/page.shape")
	if err != nil {
		t.Fatal(err)
	}
	if s.String() != string(want) {
		t.Errorf("the shape of a page changed: raise Edition, then write it with -update\n%s", s.String())
	}
}

// shape writes the fields of a type and of all that it is made of.
func shape(s *strings.Builder, t reflect.Type, seen map[reflect.Type]bool) {
	switch t.Kind() {
	case reflect.Pointer, reflect.Slice:
		shape(s, t.Elem(), seen)
	case reflect.Struct:
		if seen[t] {
			return
		}
		seen[t] = true
		for f := range t.Fields() {
			fmt.Fprintf(s, "%s.%s %s %s\n", t.Name(), f.Name, f.Type, f.Tag)
		}
		for f := range t.Fields() {
			shape(s, f.Type, seen)
		}
	}
}
