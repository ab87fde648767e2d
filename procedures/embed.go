// Package procedures holds the shipped procedure files and the sample wing,
// embedded in the program.
package procedures

import (
	"embed"
	"io/fs"

	"example.org/linewright/engine/procedure"
)

//go:embed *.toml
var texts embed.FS

// Sample holds the sample wing, the demo's answers and the story, below "sample/".
//
//go:embed sample/*.toml sample/*.txt
var Sample embed.FS

// Files gives the shipped procedure files, in order of name.
func Files() []procedure.File {
	names, err := fs.Glob(texts, "*.toml")
	if err != nil {
		panic(err) // the pattern is a constant
	}
	files := make([]procedure.File, len(names))
	for i, name := range names {
		data, err := texts.ReadFile(name)
		if err != nil {
			panic(err) // the file is part of the program
		}
		files[i] = procedure.File{Name: name, Data: data}
	}
	return files
}
