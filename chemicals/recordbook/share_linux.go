package recordbook

import "golang.org/x/sys/unix"

func mountedFrom(path string) (string, error) {
	var s unix.Statfs_t
	if err := unix.Statfs(path, &s); err != nil {
		return "", err
	}
	return networkType(uint32(s.Type)), nil
}

// networkType names the network file systems by the number that statfs(2)
// gives.
func networkType(magic uint32) string {
	switch magic {
	case unix.NFS_SUPER_MAGIC:
		return "NFS"
	case unix.SMB_SUPER_MAGIC, unix.SMB2_SUPER_MAGIC, unix.CIFS_SUPER_MAGIC:
		return "SMB"
	case unix.V9FS_MAGIC:
		return "9P"
	case unix.AFS_SUPER_MAGIC, unix.AFS_FS_MAGIC:
		return "AFS"
	case unix.CEPH_SUPER_MAGIC:
		return "Ceph"
	case unix.CODA_SUPER_MAGIC:
		return "Coda"
	case unix.NCP_SUPER_MAGIC:
		return "NCP"
	case unix.OCFS2_SUPER_MAGIC:
		return "OCFS2"
	}
	return ""
}
