//go:build race

package recordbook

// booksDrawn is small where the race detector makes the database twenty times
// slower.
const booksDrawn = "3"
