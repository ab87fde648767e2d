package tui

import "github.com/charmbracelet/lipgloss"

// ink is a colour as it is said to terminals with all colours, 256, and 16. What
// is empty is as the terminal has it.
type ink = lipgloss.CompleteColor

var (
	black = ink{TrueColor: "#000000", ANSI256: "16", ANSI: "0"}
	white = ink{TrueColor: "#ffffff", ANSI256: "231", ANSI: "15"}
)

// palette is what a look sets. Text and ground are set together or not at all,
// so that no colour ever meets one that nobody chose.
type palette struct {
	says         string // what it is for
	text, ground ink
	calm, alert  ink
	bold         bool // all of it
	turned       bool // what stands out is ground on text
	none         bool // no colour, nothing bold
}

// palettes are the looks of store.Looks. TestContrast computes each pair; by
// default nothing is set but two accents of a lightness in the middle, which can
// be read on black and on white.
var palettes = map[string]palette{
	"own": {says: "the colours of your terminal, with two accents",
		calm:  ink{TrueColor: "#008282", ANSI256: "29"},
		alert: ink{TrueColor: "#9c6e00", ANSI256: "131"}},
	"dark": {says: "light on black",
		text: ink{TrueColor: "#e4e4e4", ANSI256: "254", ANSI: "15"}, ground: black,
		calm:  ink{TrueColor: "#5fd7d7", ANSI256: "80", ANSI: "14"},
		alert: ink{TrueColor: "#ffaf5f", ANSI256: "215", ANSI: "11"}},
	"light": {says: "black on white", text: black, ground: white,
		calm:  ink{TrueColor: "#0000af", ANSI256: "19"},
		alert: ink{TrueColor: "#870000", ANSI256: "88"}},
	"sun":   {says: "bold black on white, for bright sun", text: black, ground: white, bold: true, turned: true},
	"plain": {says: "no colour, nothing bold", none: true},
}

// LookWords says what one of store.Looks is for.
func LookWords(look string) string { return palettes[look].says }
