package session

import (
	"path/filepath"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/metrology"
)

// Bench gives the profile of this workplace; the stated default where nobody
// has described it.
func (d Desk) Bench() (metrology.Bench, error) {
	data, err := d.Store.BenchProfile()
	if err != nil {
		return metrology.Bench{}, err
	}
	if data == nil {
		return metrology.DefaultBench(), nil
	}
	return metrology.ParseBench(filepath.Join(d.Store.Dir(), "bench.toml"), data)
}

// SaveBench keeps a profile for this workplace.
func (d Desk) SaveBench(b metrology.Bench) error {
	if err := b.Validate(); err != nil {
		return err
	}
	return d.Store.WriteBenchProfile(metrology.EncodeBench(b))
}

// DescribeBench puts a profile in force for the job from here on, and keeps it
// for the workplace. It is refused while readings wait for their verdict.
func (s *Session) DescribeBench(b metrology.Bench) error {
	if _, err := s.Enter(job.Entry{Kind: job.EnterBench, Bench: &b}); err != nil {
		return err
	}
	return s.desk.SaveBench(b)
}
