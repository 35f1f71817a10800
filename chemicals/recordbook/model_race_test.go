//go:build race

package recordbook

// booksDrawn is small where the race detector makes the database twenty times
// slower.
const booksDrawn = "3"

// bitsTurned are the bits of a file that are turned, one at a time.
const bitsTurned = 20
