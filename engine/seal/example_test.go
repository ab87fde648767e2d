package seal_test

import (
	"fmt"
	"time"

	"example.org/linewright/engine/seal"
)

// The way of one closing signature: a key, trust in it, a signature, the check.
func Example() {
	private, public, err := seal.NewKey("ann.example", []byte("cold hands"))
	if err != nil {
		panic(err)
	}
	key, _, err := seal.ParsePublicKey(public)
	if err != nil {
		panic(err)
	}
	allowed, err := seal.Append(nil, "ann.example", key)
	if err != nil {
		panic(err)
	}

	file, err := seal.ParseKeyFile(private)
	if err != nil {
		panic(err)
	}
	signer, err := file.Unlock([]byte("cold hands"))
	if err != nil {
		panic(err)
	}
	record := []byte(`{"job":7}`)
	armored, err := signer.Sign(seal.NamespaceRecord, record)
	signer.Forget()
	if err != nil {
		panic(err)
	}

	made, err := seal.Verify(seal.NamespaceRecord, record, armored)
	if err != nil {
		panic(err)
	}
	people, err := seal.ParseAllowedSigners(allowed)
	if err != nil {
		panic(err)
	}
	closed := time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC)
	fmt.Println(people.PrincipalsFor(made, seal.NamespaceRecord, closed), signer.Custody())
	// Output: [ann.example] pass phrase
}
