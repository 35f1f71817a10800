//go:build !race

package recordbook

// booksDrawn is how many books the model is compared with, if -rapid.checks
// does not say.
const booksDrawn = "20"

// bitsTurned are the bits of a file that are turned, one at a time.
const bitsTurned = 160
