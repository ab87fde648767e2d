package record

import (
	"bytes"
	"encoding/json"

	"github.com/gowebpki/jcs"
)

// canonical gives JSON in the one form of RFC 8785. The error is for what that
// form cannot hold: a key twice, bad UTF-8, half a surrogate pair.
func canonical(data []byte) ([]byte, error) { return jcs.Transform(data) }

// encode writes a content as canonical JSON. An integer beyond 2^53 would be
// rounded there without a word, so what was written is read back and compared.
func encode(c Content) ([]byte, error) {
	plain, err := json.Marshal(c)
	if err != nil {
		return nil, err
	}
	out, err := canonical(plain)
	if err != nil {
		return nil, err
	}
	var back Content
	if err := json.Unmarshal(out, &back); err != nil {
		return nil, err
	}
	if again, err := json.Marshal(back); err != nil || !bytes.Equal(again, plain) {
		return nil, &Error{What: "the record holds a number that JSON cannot keep", Do: "see whether the journal is the one that this program wrote", Err: err}
	}
	return out, nil
}
