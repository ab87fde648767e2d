// Package table reads and writes the tables of papers: CSV after RFC 4180, as
// manuals, check sheets and spreadsheets give it, with commas, semicolons or
// tabs, decimals with a point or a comma, and units in the titles.
//
//	Read    bytes → Sheet: records, separator, titles
//	Guess   Sheet → Import: what each column holds, by its title and by its content
//	Needs   what only a person can say before a plan can be made
//	Plan    Import → the text of a plan file, checked by wing.ParsePlan
//	Export  plan → CSV, which Read, Guess and Plan take back as it was
//
// A table may hold lines (one a record, or several side by side), whole paths
// (one a record, or a grid of rows and places), or both. Everything that was
// guessed says so, so that a person can confirm it.
//
// The error of every function is a source.Faults with file, line, column, what
// and cure; nothing is returned then. The package reads no file and no clock.
package table
