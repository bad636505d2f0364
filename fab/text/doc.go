// Package text reads and edits the job's and the shop's TOML files with the
// place of every key and value at hand.
//
// A file goes through this package in one of two ways.
//
// Reading: Parse turns bytes into a Doc, a tree of Tables, Entries and
// Values. Whether the text is TOML at all is judged by the TOML library; our
// own scanner finds where each key and value stands and keeps numbers as they
// were spelled, because a length such as 20.784609691 must not pass through a
// float. A Reading then takes keys out of tables one by one (Fields), turns
// them into quantities, and gathers everything that is wrong as Problems:
// wrong types, impossible values, keys that nobody took. Nothing is ever
// ignored in silence.
//
// Editing: Set, Delete, AddTable, Copy and Move give new bytes in which
// everything that was not touched stands byte for byte: comments, order,
// spelling, line ends. The caller keeps the old bytes for undo.
//
// Files come from strangers, too. Size, depth, number of keys and length of
// names are limited (see the Max constants), time and memory grow linearly
// with the file, and Clean takes control characters, escape sequences and
// marks that turn the reading direction out of any text before it is shown.
//
// Positions: lines and columns count from 1, columns in characters. Tables of
// an array count from 1 as well: the second [[rectangle]] is rectangle[2].
package text
