// Package file reads and writes whole files so that nobody ever meets half a
// file: not another program, not the next start, not the start after a power cut.
//
// Writing goes in this order, and each step has a reason:
//
//  1. The symbolic links of the path are followed on purpose, so that a job file that is a
//     link stays a link and the file behind it is the one replaced.
//  2. What is there must be an ordinary file that we may write to. A file that its owner made
//     read-only is left alone, although a rename could replace it.
//  3. The new text is written aside, into a fresh hidden file of the same folder
//     (".NAME.aside-xxxxxxxx"), which has the permissions of the old one before it has any text.
//  4. The aside is synced: its bytes are on the disk before its name counts.
//  5. It is renamed over the old file: one step for everyone who looks.
//  6. The folder is synced: the new name is on the disk too.
//
// When a step up to 4 fails, the old file is untouched and the aside is removed; the error
// says so. When step 6 fails, the new text is in place but a power cut may bring the old one
// back; the error says that. An aside left by a killed process is recognised by its lock,
// which died with the process, and cleared away at the next write of the same file.
//
// What a rename cannot keep is the owner, who is the writer from then on, and further hard links, which stay with the old
// text. The folder of a path is never cleaned up by its letters ("rack/.." is where the link rack leads, and up).
//
// Every call into the operating system goes through [System], so that a test can make each
// of them fail in turn (see package trouble).
package file
