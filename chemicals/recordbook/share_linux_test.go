package recordbook

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The numbers are those of statfs(2), Linux man-pages 6.
func TestNetworkFileSystems(t *testing.T) {
	for magic, want := range map[uint32]string{
		0x6969: "NFS", 0x517b: "SMB", 0xfe534d42: "SMB", 0xff534d42: "SMB", 0x01021997: "9P", 0x5346414f: "AFS", 0x00c36400: "Ceph",
		0x73757245: "Coda", 0x564c: "NCP", 0x7461636f: "OCFS2",
		0xef53: "", 0x58465342: "", 0x9123683e: "", 0x01021994: "", 0x4d44: "", // ext4, XFS, Btrfs, tmpfs, FAT
	} {
		assert.Equal(t, want, networkType(magic), "%#x", magic)
	}
	name, err := share(t.TempDir())
	require.NoError(t, err)
	assert.Empty(t, name, "tests need a folder on a disk of this computer")
}
