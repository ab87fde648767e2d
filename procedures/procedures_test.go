package procedures_test

import (
	"testing"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/procedures"
)

func TestShippedProceduresAreSound(t *testing.T) {
	lib, err := procedure.NewLibrary(procedures.Files())
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"line-exchange", "line-swap", "link-opening", "link-reclosure", "pulley-relocation"}
	if got := lib.IDs(); len(got) != len(want) {
		t.Errorf("procedures %v, want %v", got, want)
	}
}
