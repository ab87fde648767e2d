package session

import (
	"bytes"
	"fmt"
)

// linkOpen refuses work on a wing on which another job has left a link open:
// one link is open at a time on a wing, whatever the job. except is the job
// that asks.
func (d Desk) linkOpen(wing string, except int) error {
	numbers, err := d.Store.Jobs()
	if err != nil {
		return err
	}
	for _, no := range numbers {
		if no == except {
			continue
		}
		lines, err := d.Store.ReadJob(no)
		if err != nil || len(lines) == 0 || bytes.Contains(lines[len(lines)-1].Event, []byte(`"kind":"close"`)) {
			continue // a job that cannot be read is said where it is listed
		}
		j, err := Replay(lines, d.Pins(no))
		if err != nil || j.Start.WingID != wing {
			continue
		}
		if _, link := j.LinkOpen(); link.Kind != "" {
			return fmt.Errorf("the %s of this wing is open in job %d\n  close it there first: one link is open at a time", link, no)
		}
	}
	return nil
}
