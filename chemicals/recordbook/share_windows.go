package recordbook

import (
	"path/filepath"

	"golang.org/x/sys/windows"
)

func mountedFrom(path string) (string, error) {
	root, err := windows.UTF16PtrFromString(filepath.VolumeName(path) + `\`)
	if err != nil {
		return "", err
	}
	if windows.GetDriveType(root) == windows.DRIVE_REMOTE {
		return "a network drive", nil
	}
	return "", nil
}
