package metrology

import (
	"errors"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/linewright/engine/source"
)

var update = flag.Bool("update", false, "write the golden files anew")

func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", "bench", name)
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("%s (-want +got)\n%s", name, diff)
	}
}

// fullBench has every part that a bench can have.
func fullBench(t testing.TB) Bench {
	return answered(t, NewBench(),
		"name", `the "long" room`, "tape_class", "calibrated", "calibration.error_mm_per_m", "-0.12", "calibration.u_mm", "0.3", "calibration.date", "2026-03-01",
		"graduation_mm", "0.5", "tape_material", "glass fibre", "tape_expansion_per_c", "8e-6",
		"tape_lies", "hangs", "tape_run.pull_n", "20", "tape_run.pull_error_n", "5", "tape_run.weight_n_per_m", "0.1", "tape_run.section_mm2", "2.6",
		"pull_how", "spring balance", "balance_check.known_n", "5 kgf", "balance_check.shown_n", "51", "balance_check.date", "2026-03-02",
		"pin_mm", "6", "air_c", "24.5", "repeatability_mm", "0.6")
}

func TestProfileFilesAsTheyAreWritten(t *testing.T) {
	golden(t, "new.toml", string(EncodeBench(NewBench())))
	golden(t, "full.toml", string(EncodeBench(fullBench(t))))
}

// A profile of edition 1 that a person wrote is read for ever as it is now.
func TestProfileOfEdition1(t *testing.T) {
	data, err := os.ReadFile("testdata/bench/edition-1.toml")
	if err != nil {
		t.Fatal(err)
	}
	b, err := ParseBench("edition-1.toml", data)
	if err != nil {
		t.Fatal(err)
	}
	want := Bench{
		Name: "barn", Note: "by the north door", Rule: RuleBudget,
		TapeClass: ClassCalibrated, Graduation: 500, Pull: 50000,
		TapeMaterial: "glass fibre", TapeExpansionPerC: 8e-6,
		Calibration: &Calibration{ErrorUMPerM: -120, U: 300, Date: "2026-03-01"},
		TapeRun:     &TapeRun{Hangs: true, Pull: 20000, PullError: 5000, ReferencePull: 50000, WeightNPerM: 0.1, SectionMM2: 2.6, ModulusGPa: 200},
		PullHow:     PullBalance, PullError: 1000,
		Balance: &BalanceCheck{Known: 49033, Shown: 51000, Date: "2026-03-02"},
		Pin:     6000, AirC: 24.5, AirErrorC: 1, Repeatability: 600, RepeatabilityDoF: 14,
		Fallback: []string{"tape_run.reference_pull_n", "tape_run.modulus_gpa"},
	}
	if diff := cmp.Diff(want, b); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

func TestFaultsOfAProfile(t *testing.T) {
	var all strings.Builder
	for _, c := range []struct{ name, text string }{
		{"empty", ""},
		{"edition", "linewright_bench = 2\npull_n = true\n"},
		{"edition of another kind", "linewright_bench = \"1\"\n"},
		{"no TOML", "linewright_bench = 1\nname =\n"},
		{"kinds", "linewright_bench = 1\nname = 5\nhook = 3\npull_n = \"50 N\"\nair_c = nan\n[calibration]\nu_mm = 3\n"},
		{"ranges", "linewright_bench = 1\nname = \"a\\nb\"\ngraduation_mm = 0\npull_n = 5000\npull_error_n = -1\nair_error_c = 0\nrepeatability_dof = 3\n"},
		{"answers", "linewright_bench = 1\ntape_class = \"IV\"\npull_how = \"wind\"\ntape_lies = \"up\"\nrule = \"best\"\n[calibration]\nu_mm = 3\n[tape_run]\npull_n = 20\n"},
		{"no use", "linewright_bench = 1\ntape_class = \"I\"\ntape_expansion_per_c = 8e-6\n[calibration]\nu_mm = 3\n[tape_run]\npull_n = 20\n[balance_check]\nshown_n = 5\n"},
		{"missing", "linewright_bench = 1\ntape_class = \"calibrated\"\npull_how = \"spring balance\"\ntape_lies = \"hangs\"\ntape_material = \"wood\"\nhook = true\n[balance_check]\nknown_n = 50\n"},
		{"other keys", "linewright_bench = 1\nPull_n = 50\ngraduation_um = 1000\n"},
		{"no pull left", "linewright_bench = 1\npull_how = \"spring balance\"\npull_n = 5\n[balance_check]\nknown_n = 50\nshown_n = 60\ndate = \"2026-03-02\"\n"},
	} {
		b, err := ParseBench("bench.toml", []byte(c.text))
		var faults source.Faults
		if !errors.As(err, &faults) || cmp.Diff(b, Bench{}) != "" {
			t.Errorf("%s: %+v, %v", c.name, b, err)
			continue
		}
		all.WriteString("== " + c.name + "\n" + err.Error() + "\n\n")
	}
	golden(t, "faults.txt", all.String())
}

func FuzzParseBench(f *testing.F) {
	f.Add(EncodeBench(NewBench()))
	f.Add(EncodeBench(fullBench(f)))
	f.Add([]byte("linewright_bench = 1\nair_c = -0.0\n[tape_run]\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		b, err := ParseBench("bench.toml", data)
		if err != nil {
			for _, r := range err.Error() {
				if r != '\n' && source.Hidden(r) {
					t.Fatalf("control character in %q", err.Error())
				}
			}
			return
		}
		if err := b.Validate(); err != nil {
			t.Fatalf("taken, yet not valid: %v", err)
		}
		back, err := ParseBench("bench.toml", EncodeBench(b))
		if err != nil || cmp.Diff(b, back) != "" {
			t.Fatalf("%v\n%s", err, cmp.Diff(b, back))
		}
	})
}
