// Package wing knows how the lines of a soft wing hang together: the plan of
// one model and size, the cascade from riser to canopy, the paths and their
// nominal lengths, the twin and the neighbours of a line, finding a line from
// what is seen, asking a wing without papers for a plan, the order on a link and
// how to mend it, and the bench sums of path, knot, strength, twist and link,
// each with the steps to follow by hand.
//
// It reads no clock and no folder: ParsePlan takes the bytes of a plan file and
// Draft.TOML gives them.
// Places count from the centre of the wing, joints from the riser, sides as
// the pilot sits. Codes are compared with regard to case.
package wing
