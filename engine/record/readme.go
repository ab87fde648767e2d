package record

import (
	"fmt"
	"strings"

	"example.org/linewright/engine/seal"
)

// readme says how to check an exported folder without this program.
func readme(c Content, roles []string, allowed bool) string {
	var b strings.Builder
	fmt.Fprintf(&b, `This folder is the record of job %d. Read record.txt first.

To see whether the folder is whole:

  sha256sum -c SHA256SUMS

That finds damage. It proves nothing against a person who wanted to deceive
you: such a person would have changed SHA256SUMS too. What counts is a
signature over record.json, since record.json gives the SHA-256 of record.txt,
the journal, the plan, the procedures and the photos.

`, c.Job)
	b.WriteString(signatureLines(roles))
	b.WriteString(`NAME is the person who should have signed. TRUSTED is your own file of trusted
keys, one line each: name and public key. `)
	if allowed {
		b.WriteString(`The allowed_signers in this folder is
only a copy for convenience. Do not use it as it is: it came together with the
signatures, so whoever made false signatures could have made it too. Get each
key, or its fingerprint, from the person by another way.
`)
	} else {
		b.WriteString(`Get each key, or its
fingerprint, from the person by another way.
`)
	}
	b.WriteString(`
All of it at once, with the journal's chain and the signatures in it:

  linewright record verify .

The signatures of signed holds stand in the journal. Who adds a signature
afterwards adds its line to SHA256SUMS as well.

A signature proves a key, not a person. Nothing here states that a wing is
airworthy.
`)
	return b.String()
}

func signatureLines(roles []string) string {
	if len(roles) == 0 {
		return fmt.Sprintf(`Nobody has signed this record. A person does that with

  ssh-keygen -Y sign -f KEYFILE -n %s record.json

and renames the result to record.json.doer.sig. To check it:

  ssh-keygen -Y verify -f TRUSTED -I NAME \
    -n %s \
    -s record.json.doer.sig < record.json

`, seal.NamespaceRecord, seal.NamespaceRecord)
	}
	var b strings.Builder
	b.WriteString("To see who signed:\n\n")
	for _, role := range roles {
		fmt.Fprintf(&b, "  ssh-keygen -Y verify -f TRUSTED -I NAME \\\n    -n %s \\\n    -s %s < record.json\n\n", seal.NamespaceRecord, SignatureName(role))
	}
	return b.String()
}
