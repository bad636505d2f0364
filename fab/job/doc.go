// Package job holds the tables of a job file as values: what the worker wrote, read and checked for itself, before any
// geometry. The names of the tables and keys are fixed by the project's contract; each subject has a file with its types
// and its reader. Lengths are exact (measure.Length), every table knows where it stands in the file (Where), and a key
// that was left out has its plain default already filled in.
package job
