// Package record makes the record of a closed job and checks one that somebody
// else made.
//
// Build is pure: the same journal, plan and procedures give the same bytes,
// and no time of export stands in them. So whoever has an exported folder can
// make record.json and record.txt anew from the journal in it and compare.
//
// # The folder, edition 1
//
//	record.json             the record, RFC 8785; what closing signatures sign
//	record.json.<role>.sig  a closing signature, detached, armoured
//	record.txt              the same for a person, at most 78 columns
//	journal.jsonl           see package journal
//	plan.toml               the plan as the job used it
//	procedures/<id>-<12>.toml  each procedure used; 12 digits of its SHA-256
//	photos/<sha>.jpg        photos; also .png and .heic
//	allowed_signers         a copy for convenience; proves nothing
//	README.txt              how to check all this without this program
//	SHA256SUMS              of every file but itself
//
// record.json lists name and SHA-256 of record.txt, the journal, the plan, the
// procedures and the photos, so a signature over record.json covers them all.
// record.txt is rendered from record.json without that list. The signatures,
// allowed_signers and README.txt stand in SHA256SUMS only: it shows that a
// copy is whole, and since nobody signs it, it proves no more than that.
//
// Nothing here says that a wing is airworthy.
package record
