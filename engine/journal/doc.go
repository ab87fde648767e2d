// Package journal keeps an append-only, chained log in one file. It knows
// bytes, not jobs, and imports nothing of this module.
//
// # Format, edition 1
//
// A journal is UTF-8 text, one JSON object a line, each line ended by one
// newline (0x0A). The fields stand in this order, without any space:
//
//		{"linewright_journal":1,"n":1,"prev":"0000…0000","event":{…}}
//		{"n":2,"prev":"3f9a…c07e","event":{…}}
//		{"n":3,"prev":"b1d4…9921","event":{…}}
//
//	  - linewright_journal, on the first line only, is the edition.
//	  - n is the number of the line, from 1, without a gap.
//	  - prev is the SHA-256 of the line before, without its newline, as 64 lower
//	    case hex digits; 64 zeros on the first line.
//	  - event is one JSON object that this package does not look into. It is
//	    compact (no space between tokens), valid UTF-8, at most MaxEvent bytes
//	    and holds no control character and no line or paragraph separator in raw
//	    form, so that a journal can be read in a pager. Such a character has to
//	    be escaped (\u001b).
//
// There is one way only to write a given line, and a reader takes no other: so
// decoding and encoding again gives the same bytes. A journal has at most
// MaxFile bytes.
//
// A person without this program checks a link of the chain with
//
//	sed -n 2p journal.jsonl | tr -d '\n' | sha256sum
//
// which gives the prev of line 3. The chain shows any change to a line that has
// a line after it. Nothing in the file guards the last line, or the whole chain
// against being built anew: that is the business of what is signed over the
// head, outside this package.
//
// # What is assumed
//
//  1. One process writes at a time; a lock outside this package sees to that.
//     Readers may read at any time.
//  2. A sync that reports success has put the bytes on the disk.
//  3. Bytes that were synced stay as they are. Bytes written but not yet synced
//     may be lost in a crash, in whole or from some byte on, and the file may
//     be left longer than what was kept, filled up with zeros.
//  4. A new file name survives a crash only when its folder was synced too.
//
// # What a crash leaves
//
// A line is written, newline and all, and then synced; only then is it
// acknowledged ("saved"). So a crash leaves one of these:
//
//	a. No file, or an empty one: nothing was acknowledged.
//	b. Whole lines, the last of them acknowledged.
//	c. Whole lines, the last of them not acknowledged: it was written and its
//	   sync did not finish. It is complete and well linked and is kept.
//	d. Whole lines and an unfinished one without its newline, the torn line. It
//	   was never acknowledged, even if nothing but the newline is missing: the
//	   newline is the mark that a line is complete. Without it nobody could tell
//	   a whole line from one cut at the end of an object.
//
// Everything else is damage, not a crash: a line that ends in a newline and is
// not what this format says, wherever it stands. A complete last line that
// cannot be read may have been acknowledged, so it is refused and never cut
// away.
//
// # Recovery
//
// Open does this, in this order; each step can be cut off by a further crash
// and the whole be started again:
//
//  1. Read the file. Absent: create it.
//  2. Split it at the newlines and check each line. At the first damage stop,
//     with the number of the line; nothing is written.
//  3. A torn line is copied to a new file beside the journal, named like it
//     with ".torn-1" (or the next free number) in place of the ending. That
//     file is synced, then the folder.
//  4. The journal is cut back to its last newline.
//  5. The journal and its folder are synced, in every case: what Open reports
//     is then on the disk, including state c.
//
// # After a failed write
//
// When a write or a sync fails, nobody can say what is on the disk. The log
// tries to cut the file back to the last acknowledged line, so that a full disk
// leaves no half line, and then takes no further line (ErrStopped) until it is
// opened again.
package journal
