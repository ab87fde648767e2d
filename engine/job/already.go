package job

import "example.org/linewright/engine/wing"

// Already finds the newest task of the job that does the same on the same thing
// and was not dropped, and when its state began: the time that it was added, or
// of its last entry once it is done. A line that has to be found out is not told.
func (j *Job) Already(procedure string, target wing.Ref) (t *Task, since string) {
	for _, o := range j.Tasks {
		if o.Add.Procedure == procedure && o.Add.Target == target && o.state != Gone && !j.Covered(o.No) {
			t = o
		}
	}
	if t == nil {
		return nil, ""
	}
	line := t.line
	if t.State() == Done {
		line = max(line, t.lastLine())
	}
	return t, j.events[line-1].At
}
