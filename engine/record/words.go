package record

import (
	"fmt"
	"strings"

	"example.org/linewright/engine/seal"
	"example.org/linewright/engine/source"
)

// wording is what a problem says: one line what, behind the name of the file,
// and one line what to do.
var wording = map[Code]struct{ what, do string }{
	Missing:      {"it is not there", "get the whole folder again from whoever gave it to you"},
	Extra:        {"it does not belong to the record", "move it away; what it says is not covered by any signature"},
	NotPlain:     {"it is no plain file or not a folder of the record", "move it away, then check again"},
	TooLarge:     {"it is larger than {0} bytes", "do not open it; get the folder again"},
	Unreadable:   {"it cannot be read", "see that you may read it, then check again"},
	TooMany:      {"there are more than {0} names in this folder", "see whether this is the right folder"},
	NotARecord:   {"it is no record of a job", "see whether this is the right folder; if it is, get the folder again"},
	OtherEdition: {"it has edition {0}, this program checks edition {1}", "check it with the newer linewright that wrote it"},
	Changed:      {"it was changed: its SHA-256 is not the one that record.json gives", "do not rely on it; get the folder again"},
	Damaged:      {"{0}", "do not rely on it; get the folder again"},
	NotRebuilt:   {"no record can be made from it: {0}", "do not rely on it; get the folder again"},
	NotTheSame:   {"it is not what journal, plan and procedures give", "do not rely on it; get the folder again"},
	SumLine:      {"line {0} is not a sum and a name", "get the folder again, or make the file anew: sha256sum"},
	SumOther:     {"its SHA-256 is not the one that SHA256SUMS gives: one of the two was changed", "get both again; nothing signed covers this file"},
	SumNone:      {"SHA256SUMS does not list it: it was added, or a line was taken out", "get the folder again; if you added it yourself: sha256sum {0} >> SHA256SUMS"},
	SumWrong:     {"what it says of {0} does not fit", "get it again, or make it anew: sha256sum"},
	HoldPlace:    {"the signature of {0} is not over the lines before it", "the journal was changed after {0} signed; do not rely on it"},
	HoldText:     {"the signature of {0} does not fit: {1}", "the journal was changed after {0} signed; do not rely on it"},
	HoldRole:     {"{0} could not sign here: {1}", "do not rely on this look; ask the people who signed"},
	HoldTrust:    {"{0}", "ask {1} for the fingerprint by another way, then add the key to your own allowed_signers"},
	SameSigner:   {"the doer's work and the second look were signed by one person: {0}", "a second look by the same person is none; have another person look"},
	SigBad:       {"{0}", "record.json was changed after it was signed, or this file was; get both again"},
	SigTrust:     {"your allowed_signers gives the key {0} to nobody on {1}", "ask the signer for the fingerprint by another way, then add the key to your own allowed_signers"},
	SigName:      {"{0} is not a role that can sign", "name it record.json.<role>.sig, the role in small letters"},
	NoSignature:  {"nobody has signed record.json", "ask the doer for a closing signature over it"},
}

// Words says the report: the status first, what is wrong and what to do, and
// who signed.
func (r Report) Words() string {
	var b strings.Builder
	if r.Demo {
		b.WriteString("DEMO: sample data, no statement about any wing.\n")
	}
	b.WriteString(r.statusWords() + "\n")
	for _, p := range r.Problems {
		what, do := p.Words()
		fmt.Fprintf(&b, "  %s\n    %s\n", what, do)
	}
	if r.More > 0 {
		fmt.Fprintf(&b, "  and %d more\n", r.More)
	}
	for _, s := range r.Closing {
		fmt.Fprintf(&b, "  %s: record signed as %s by %s\n", s.File, s.Role, s.whose(r.Asked))
	}
	for _, s := range r.Holds {
		fmt.Fprintf(&b, "  %s line %d: signed as %s by %s\n", s.File, s.Line, s.Role, s.whose(r.Asked))
	}
	b.WriteString("A signature proves a key, not a person. This is no statement of airworthiness.\n")
	return b.String()
}

func (r Report) statusWords() string {
	about := fmt.Sprintf("job %d, %s", r.Job, source.Clean(r.Wing))
	switch {
	case r.Status == Verified:
		return "VERIFIED: " + about + ". Every file is as it was signed, and the journal gives this record."
	case r.Status == NotVouched && !r.Asked:
		return "NOT VOUCHED FOR: " + about + ". The files fit each other and the keys below; no trusted keys were given, so nobody says whose keys they are."
	case r.Status == NotVouched:
		return "NOT VOUCHED FOR: " + about + ". The files fit each other, but not every key is trusted."
	case r.Job == 0:
		return "NOT VERIFIED."
	}
	return "NOT VERIFIED: " + about + "."
}

// whose names the people behind a key, as far as somebody vouches for them.
func (s Signature) whose(asked bool) string {
	said := strings.Join(s.Names, " or ")
	switch {
	case said == "":
		said = "an unknown person"
	case !s.Trusted:
		said = "somebody who signs as " + said
	}
	said += ", key " + s.Fingerprint
	if s.Custody == string(seal.Unencrypted) {
		said += ", kept without a pass phrase"
	}
	if asked && !s.Trusted {
		said += ", NOT TRUSTED"
	}
	return source.Clean(said)
}
