package record

import (
	"fmt"

	"example.org/linewright/engine/seal"
)

// readme says how to check an exported folder without this program.
func readme(c Content, roles []string, allowed bool) string {
	p := &page{}
	para := func(format string, args ...any) {
		p.line(0, format, args...)
		p.b.WriteString("\n")
	}
	command := func(lines ...string) {
		for _, l := range lines {
			p.b.WriteString("  " + l + "\n")
		}
		p.b.WriteString("\n")
	}
	para("This folder is the record of job %d. Read record.txt first.", c.Job)
	para("To see whether the folder is whole:")
	command("sha256sum -c " + NameSums)
	para("That finds damage. It proves nothing against a person who wanted to deceive you: such a person would have changed SHA256SUMS too. " +
		"What counts is a signature over record.json, since record.json gives the SHA-256 of record.txt, the journal, the plan, the procedures and the photos.")
	if len(roles) == 0 {
		para("Nobody has signed this record. A person does that with")
		command("ssh-keygen -Y sign -f KEYFILE -n " + seal.NamespaceRecord + " " + NameJSON)
		para("and renames the result to %s. To check it:", SignatureName("doer"))
		roles = []string{"doer"}
	} else {
		para("To see who signed:")
	}
	for _, role := range roles {
		command(`ssh-keygen -Y verify -f TRUSTED -I NAME \`, "  -n "+seal.NamespaceRecord+` \`, "  -s "+SignatureName(role)+" < "+NameJSON)
	}
	para("%s", trust(allowed))
	para("All of it at once, with the journal's chain and the signatures in it:")
	command("linewright record verify .")
	para("The signatures of signed holds stand in the journal. Who adds a closing signature afterwards adds its line to SHA256SUMS as well.")
	p.line(0, "A signature proves a key, not a person. Nothing here states that a wing is airworthy.")
	return p.String()
}

// trust says where trusted keys come from.
func trust(allowed bool) string {
	said := "NAME is the person who should have signed. TRUSTED is your own file of trusted keys, one line each: name and public key. "
	if allowed {
		said += fmt.Sprintf("The %s in this folder is only a copy for convenience. Do not use it as it is: it came together with the signatures, "+
			"so whoever made false signatures could have made it too. ", NameAllowed)
	}
	return said + "Get each key, or its fingerprint, from the person by another way."
}
