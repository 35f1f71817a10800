//go:build !race

package recordbook

// booksDrawn is how many books the model is compared with, if -rapid.checks
// does not say.
const booksDrawn = "20"
