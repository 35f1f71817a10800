//go:build darwin || freebsd

package recordbook

import "golang.org/x/sys/unix"

func mountedFrom(path string) (string, error) {
	var s unix.Statfs_t
	if err := unix.Statfs(path, &s); err != nil {
		return "", err
	}
	if uint64(s.Flags)&unix.MNT_LOCAL != 0 {
		return "", nil
	}
	return unix.ByteSliceToString(s.Fstypename[:]), nil
}
