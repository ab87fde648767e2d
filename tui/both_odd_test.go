package tui

import "testing"

// pulleyStory lowers both pulleys of the sample wing by one place. Three slips
// of the comma are mended; what is really far off is typed twice.
const pulleyStory = `== 2026-03-02 09:00 ann new brakes too high
:add pulley-relocation
1


1
1
1
!4.1
300
1
1
300
1
120
1
!1
30
30
1
2
135
135

!13.6
136
136

1
1



1

135

1
165
1
# tea: somebody calls, and the work is gone on with later
:quit
== 2026-03-02 14:00 ann 1




1

135

1
165
1
2400
2400
2401
2401

1
1
bea
2
2
3
2
bea
5
1
ann
:close Both pulleys lowered by one place.
yes
`

// oddStory does on a small procedure what a straight job never asks for.
const oddStory = `== 2026-03-03 09:00 ann new odd things
:add small C1.2 left
:note seen from below
!:strike 3
:strike 3 the wrong wing
1

C1.2
:lay-down the label is at home
:take-up

2 found in the drawer
4110
:strike 12 read upside down
4206
:strike 14 jerked
4207
4208

1 2 3
5
:add small C1.3 left looked worn beside it
:want line:C1.1@right price 9 EUR note bright yellow
:unwant 1 there is one in the box
:drop not today
:task 1

1 2 3
!9
5

bea
3
:disagree the loops cross
1 2 3
5
:stands
bea
2
1
bea
:reopen part_code the label again
yes
:quit
== 2026-03-04 09:00 ann 1

C1.2
:stands
4207
4206

1 2 3
5
:stands
bea
2
1
bea
ann
:close Odd, but done.
yes
`

// sheetStory takes lengths from a sheet and withdraws one of them.
const sheetStory = `== 2026-03-05 09:00 ann new trim
:add trim-measure
as_here

good

closed
released
there
alike
:sheet testdata/both-sheet.csv
!:strike 11 A2 left
:strike 11 A2 left the pin had slipped
6248
:report
:quit
`

func TestASheetIsTheSameBothWays(t *testing.T) {
	t.Parallel()
	inBoth(t, these(t, "trim-measure"), "sheet", sheetStory).atTheBench(80, 24)
}

func TestThePulleysAreTheSameBothWays(t *testing.T) {
	t.Parallel()
	inBoth(t, these(t, "pulley-relocation"), "pulleys", pulleyStory).atTheBench(80, 24)
}

func TestOddDeedsAreTheSameBothWays(t *testing.T) {
	t.Parallel()
	inBoth(t, small(t), "odd", oddStory).atTheBench(80, 24)
}
