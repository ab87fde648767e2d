package record

// Text renders record.txt, edition 1. It does not look at Files.
func (c Content) Text() string { return "" }
