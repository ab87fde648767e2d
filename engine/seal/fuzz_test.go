package seal_test

import (
	"bytes"
	"errors"
	"slices"
	"testing"

	"example.org/linewright/engine/seal"
)

// knownError checks what every error promises, whatever the input was.
func knownError(t *testing.T, err error) {
	t.Helper()
	var e *seal.Error
	if !errors.As(err, &e) {
		t.Fatalf("%v is no *seal.Error", err)
	}
	checkText(t, e)
}

// fixedKey stands here so that a finding of the fuzzer can be run again.
const fixedKey = "ssh-ed25519 AAAAC3NzaC1lZDI1NTE5AAAAINNwMHM8lLcve+HMdKmjaanRnkdOE0Sm3ZUxkjv5LTgg"

func FuzzParseAllowedSigners(f *testing.F) {
	for _, seed := range []string{
		"", "# people\n\n", "ann.example " + fixedKey, "ann.example,*@ben.example,!eve@ben.example " + fixedKey + " a note\r\n",
		`"ann.example" namespaces="file,hold-*",valid-after="20260101Z",valid-before="20261231235959Z" ` + fixedKey,
		"ann.example cert-authority " + fixedKey, `ann.example namespaces="`, `"`, "ann.example ssh-ed25519 AAAA",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, content []byte) {
		signers, err := seal.ParseAllowedSigners(content)
		if err != nil {
			if signers != nil {
				t.Fatal("something was returned beside the error")
			}
			knownError(t, err)
			return
		}
		for _, e := range signers.Entries {
			written := e.String()
			again, err := seal.ParseAllowedSigners([]byte(written))
			if err != nil || len(again.Entries) != 1 {
				t.Fatalf("%q is written as %q and read as %v, %v", content, written, again, err)
			}
			if !sameEntry(again.Entries[0], e) || again.Entries[0].String() != written {
				t.Fatalf("%+v is written as %q and read as %+v", e, written, again.Entries[0])
			}
		}
	})
}

func sameEntry(a, b seal.Entry) bool {
	return slices.Equal(a.Principals, b.Principals) && slices.Equal(a.Namespaces, b.Namespaces) &&
		a.ValidAfter.Equal(b.ValidAfter) && a.ValidBefore.Equal(b.ValidBefore) && a.Key == b.Key && a.Comment == b.Comment
}

// Whatever is done to a signature file and its text, it either fails or still is
// the signature of that key over that text.
func FuzzVerify(f *testing.F) {
	for _, signer := range []seal.Signer{
		newSigner(f, "ann.example"), openKey(f, keyFile(f, newECDSA(f)), ""), openKey(f, keyFile(f, newRSA(f)), ""),
	} {
		f.Add(message, must[[]byte](f)(signer.Sign(seal.NamespaceHold, message)))
		f.Add(message, must[[]byte](f)(signer.Sign(seal.NamespaceRecord, message)))
	}
	f.Add([]byte(nil), []byte("-----BEGIN SSH SIGNATURE-----\n\n-----END SSH SIGNATURE-----"))
	f.Fuzz(func(t *testing.T, text, armored []byte) {
		key, err := seal.Verify(seal.NamespaceHold, text, armored)
		if err != nil {
			if !key.IsZero() {
				t.Fatal("a key was returned beside the error")
			}
			knownError(t, err)
			return
		}
		if !bytes.Equal(text, message) || key.IsZero() {
			t.Fatalf("%q was never signed, yet %s is said to have signed it", text, key.Fingerprint())
		}
	})
}

func FuzzParseKeyFile(f *testing.F) {
	for _, passphrase := range []string{"", "cold hands"} {
		private, public, err := seal.NewKey("ann.example", []byte(passphrase))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(private)
		f.Add(public)
	}
	f.Add(keyFile(f, newRSA(f)))
	f.Add(keyFile(f, newECDSA(f)))
	f.Fuzz(func(t *testing.T, content []byte) {
		file, err := seal.ParseKeyFile(content)
		if err != nil {
			if file != nil {
				t.Fatal("a key file was returned beside the error")
			}
			knownError(t, err)
			return
		}
		signer, err := file.Unlock(nil)
		if err != nil {
			if signer != nil {
				t.Fatal("a signer was returned beside the error")
			}
			knownError(t, err)
			return
		}
		armored, err := signer.Sign(seal.NamespaceHold, message)
		if err != nil {
			t.Fatalf("the key was opened and does not sign: %v", err)
		}
		if key, err := seal.Verify(seal.NamespaceHold, message, armored); err != nil || key != file.Public() {
			t.Fatalf("signed with %s, want %s: %v", key.Fingerprint(), file.Public().Fingerprint(), err)
		}
	})
}
