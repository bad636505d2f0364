// Package trouble is a disk in memory on which everything can go wrong, for tests of the rooms
// that write files. It tells three states apart that a healthy disk hides:
//
//   - what programs see (the kernel's memory),
//   - what is on the disk (after Sync of the file, and SyncFolder of the folder for its names),
//   - what a power cut makes of the difference: any part of the writes that were not synced,
//     in pieces, or zeros where the file had grown and its blocks had not come.
//
// A sync that fails leaves the kernel believing that all is written; a later sync of the same
// bytes does nothing and reports success. That is how Linux behaves, and the reason why a
// failed sync cannot simply be tried again.
//
// Each call can be made to fail, to be cut short, or to be the last one that the process
// makes (Plan). Locks die with the process (Restart).
package trouble
