// Package store is the folder on disk: wings, jobs, procedures, signers, locks.
//
// # Layout, edition 1
//
//	store.toml                    linewright_store = 1
//	wings/<id>/wing.toml          what does not come from jobs
//	wings/<id>/plans/<sha>.toml   every plan that this wing had
//	wings/<id>/loops.toml         what each loop takes on this wing, if measured
//	jobs/0007/journal.jsonl       see package journal; torn lines lie beside it
//	jobs/0007/lock                held while the job is open; never removed
//	jobs/0007/holder              who holds the lock, for the one who waits
//	jobs/0007/pinned/<sha>.toml   plan and procedures as the job used them
//	jobs/0007/photos/<sha>.jpg    photos; also .png and .heic
//	jobs/0007/closing/<role>.sig  detached signatures over the record
//	jobs/.taking                  locked while a packed job is taken up
//	procedures/*.toml             the user's own procedures
//	signers/allowed_signers       trusted people, OpenSSH format
//	signers/<name>, <name>.pub    key files, OpenSSH format
//	bench.toml                    the bench profile
//	settings.toml                 what was chosen about the program itself, if anything
//	cache/<name>                  what can be found again; may be deleted
//
// <sha> is the SHA-256 of the file as 64 lower case hex digits, and reading such
// a file checks it. Identifiers and roles are lower case letters, digits and
// hyphens, so that no two names fall together on a disk that does not tell case
// apart; for the same reason no file name contains a line code.
//
// wing.toml has the keys linewright_wing = 1, id, name, serial, plan (SHA-256)
// and, where known, hours_at_start.
//
// # Rules
//
// Every access goes through one os.Root: no name and no symbolic link leads out
// of the folder. Files other than journals are replaced as a whole: written
// beside, synced, renamed, and the folder synced. So a crash leaves the old file
// or the new one, and at worst a file that begins with ".tmp-", which may be
// deleted.
//
// A packed job, which PackJob writes and TakeJob takes up, is another format; its
// chapter in DEVELOPERS.md is "The hand-over". In the folder of a job that was
// taken up nothing is different. Its number may be another than its journal
// claims.
//
// Reading needs no lock. Writing to a job needs its lock, which ends with the
// process that holds it, however it ends.
package store
