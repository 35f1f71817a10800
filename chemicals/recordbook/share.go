package recordbook

import (
	"runtime"
	"strings"
)

// share names the network file system that path lies on; empty if it lies on a
// disk of this computer. A network file system that is mounted through FUSE
// (sshfs and the like) cannot be told from a local one.
func share(path string) (string, error) {
	if runtime.GOOS == "windows" && unc(path) {
		return "a network path", nil
	}
	return mountedFrom(path)
}

// unc reports whether a Windows path names a server: \\server\share or
// \\?\UNC\server\share.
func unc(path string) bool {
	p := strings.ToUpper(strings.ReplaceAll(path, "/", `\`))
	switch {
	case strings.HasPrefix(p, `\\?\UNC\`), strings.HasPrefix(p, `\\.\UNC\`):
		return true
	case strings.HasPrefix(p, `\\?\`), strings.HasPrefix(p, `\\.\`):
		return false
	}
	return strings.HasPrefix(p, `\\`)
}
