// Package trim looks at the lengths of a whole wing at once: what each path
// deviates from the plan, left against right, the rows against row A, what is
// common to all, the change of incidence and an index of asymmetry; what work
// moved; and which loops on the links bring the wing back inside its limits.
//
// A deviation is measured minus nominal, positive = long. A difference of
// sides is left minus right. An incidence is positive nose up. Places along
// the chord are positive rearward.
//
//	ReadCSV    sheet → rows, or rows as typed
//	Evaluate   rows, bench → readings of a Set
//	NewReport  plan, Set, Chord → Report
//	Repeat     what was worked on → what has to be measured again
//	Compare    Set before, Set after → Move
//	Choose     Report, Loops → Choice
//	FitNew     a new line among its neighbours → Fitting
//
// Each result is plain data with a JSON form, and has Words for a person.
//
// It reads no clock and no file: ReadCSV takes the bytes of a sheet and its
// error is a source.Faults. All other errors are a *wing.SumError or a
// *metrology.Error, and nothing was reckoned then.
package trim
