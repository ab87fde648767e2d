// Package trim looks at the lengths of a whole wing at once: what each path
// deviates from the plan, left against right, the rows against row A, what is
// common to all, the change of incidence and an index of asymmetry; what work
// moved; and which loops on the links bring the wing back inside its limits.
//
// A deviation is measured minus nominal, positive = long. A difference of
// sides is left minus right. An incidence is positive nose up. Places along
// the chord are positive rearward.
//
// It reads no clock and no file: ReadCSV takes the bytes of a sheet. The error
// of every function is a *wing.SumError or a *metrology.Error, and nothing was
// reckoned then.
package trim
