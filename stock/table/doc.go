// Package table holds the catalogue: the published data that the shop looks up, each with its source. Data stand as Go
// tables or as CSV beside them; functions such as Steel give them as the values that the rooms of fab take.
package table
