// Package record keeps the record of work: an append-only file beside the job, in which
// every entry is on the disk before anybody is told so. What the entries mean is no concern
// of this package (see fab/work); it carries opaque payloads.
//
// # The file
//
// The record of kayak-rack.toml is kayak-rack.record in the same folder. It is a file of
// lines. Each entry is one line:
//
//	=1 SEQ AT WRITER NUMBER LENGTH CHECK PAYLOAD\n
//
//	=1       marks an entry and says the version of its format, 1
//	SEQ      decimal; counts the entries of this file from 1
//	AT       decimal; when, in nanoseconds since 1970-01-01 UTC, as the writer was told
//	WRITER   16 hexadecimal digits; drawn at random each time that somebody opens the record
//	NUMBER   decimal; counts the entries of that writer from 1
//	LENGTH   decimal; bytes of the payload, 1 to 65536
//	CHECK    8 hexadecimal digits; CRC-32C (Castagnoli) over the line from '=' to the blank
//	         before CHECK, then from the blank behind CHECK to the end of the payload
//	PAYLOAD  any bytes except line feed and zero
//
// Numbers have no leading zeros and one blank stands between fields, so an entry has exactly
// one spelling. WRITER and NUMBER together are the entry's ID. An empty file is a record
// without entries. A later version may lay out everything behind "=V " anew, but keeps
// entries to lines: a reader skips lines of a version it does not know, leaves them in place
// and says so.
//
// # Writing
//
// Several processes may write the same record. Each append takes the file's lock (flock: it
// dies with its process), makes sure that the name still leads to the file it has open,
// reads what others have written, drops drafts whose ID stands there already, writes its
// lines with one call, syncs, and only then confirms and unlocks. The folder is synced when
// a file is created or taken up, because a synced file whose name is not on the disk is lost
// all the same.
//
// A write that fails is taken back by cutting the file to its former length; the record
// stays usable (a full disk may have room again). After a sync that failed nobody knows what
// is on the disk, and a second sync may report success without having written anything; so
// the record is then closed for writing until it is opened again. Opening writes the last
// entries once more over themselves, so that the kernel cannot take them for written, and
// syncs, before it shows them.
//
// # Reading after a crash
//
// Each line is judged by itself, so damage costs the lines it touches and no other. What
// cannot be read and has whole entries behind it, or ends as a line should, is damage: it is
// left in place, skipped and told. What stands at the end and lacks its line feed, or holds
// zero bytes (blocks that were promised and never written), is what an interrupted write
// leaves behind. It never was confirmed. It is copied into a side file (NAME.aside-1, -2,
// ...) that is synced before the tail is cut off, and told; only then is anything appended.
// Where the side file cannot be made (a full disk), the tail stays and is closed by a line
// feed, so that the next entry begins a line of its own.
//
// A file that is not empty and has nothing in it that could be an entry is not a record. It
// is never written to.
//
// # Compacting
//
// Compact copies the entries that its caller wants to keep into NAME.compact, syncs it,
// renames it over the record and syncs the folder. SEQ is counted anew; IDs stay. Others who
// have the old file open notice at their next append or poll and go over to the new one.
//
// # Starting from a checkpoint
//
// A record of half a million entries takes a sixth of a second to read and fold. Where the caller gives a Checkpoint, the
// state that came of a start with many new entries is kept in a file of the user's cache, by write-aside, sync and rename:
//
//	soapstone checkpoint 1\n
//	end, seq         64-bit numbers, little endian: how far the record was read, and its last SEQ
//	sums             CRC-32C of the record's bytes up to end, one for each block of 2^20 bytes, 32 bits each
//	ids, state       each with its length before it, 64 bits: the IDs that stand there, and the caller's state
//	check            CRC-32C of everything before it
//
// It is taken up only if the record still begins with those very bytes, all of which are read and compared with the sums;
// then the entries behind them are read as ever. So it saves the decoding and nothing of the checking, and can hide
// nothing: a record that was damaged, cut, compacted, restored or exchanged has other bytes, is read from its beginning,
// and tells what there is to tell. No checkpoint is made of a record about which there was something to tell. One that is
// lost, damaged, of another version, or refused by the caller costs time only. It never lies beside the job, which may
// come from a stranger.
package record
