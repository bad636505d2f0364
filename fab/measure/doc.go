// Package measure holds the exact quantities of the shop and their spellings.
//
// A Length is an integer number of nanometres, so that 1/64 in (396 875 nm), 1 mm and every sum of them are exact;
// a float never holds a length that is cut. Money is an integer too. The other quantities (angle, force, mass, stress
// ...) only feed formulas and are float64 in one stated unit.
//
// Every Parse function takes the text as the worker wrote it and, where a bare number is allowed, the unit that a bare
// number is in. A text that is not understood gives an *Error which knows the text, the place in it and what is
// accepted instead.
package measure
