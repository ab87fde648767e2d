package metrology

import "testing"

func BenchmarkVerdictWithBudget(b *testing.B) {
	o, bench := goodObject(), goodBench()
	rs := readings(4207000, 4208000)
	b.ReportAllocs()
	for b.Loop() {
		m, err := Evaluate(o, rs, bench)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := m.Judge(o.Nominal, 10000); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFourHundredVerdicts(b *testing.B) {
	o, bench := goodObject(), goodBench()
	b.ReportAllocs()
	for b.Loop() {
		for i := range 400 {
			rs := readings(4207000, 4208000, 4207000+1000*quantityOf(i%5))
			m, err := Evaluate(o, rs, bench)
			if err != nil {
				b.Fatal(err)
			}
			if _, err := m.Judge(o.Nominal, 10000); err != nil {
				b.Fatal(err)
			}
		}
	}
}
