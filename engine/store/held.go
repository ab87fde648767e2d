package store

import "time"

// HeldSince gives the time at which the name of who has a job open was written,
// by the clock of the disk; the zero time where nobody's stands there. Whether
// it still holds only the lock knows.
func (s *Store) HeldSince(no int) time.Time {
	info, err := s.root.Lstat(holderPath(no))
	if err != nil {
		return time.Time{}
	}
	return info.ModTime()
}
