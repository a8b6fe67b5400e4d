package pack

import (
	"errors"
	"io/fs"
	"os"

	"golang.org/x/sys/unix"
)

// swap exchanges the two folders in one step, so that a reader of dir sees the
// old pack or the new one and nothing between.
func swap(fresh, dir string) error {
	err := unix.Renameat2(unix.AT_FDCWD, fresh, unix.AT_FDCWD, dir, unix.RENAME_EXCHANGE)
	switch {
	case err == nil:
		return nil
	case errors.Is(err, fs.ErrNotExist):
		return os.Rename(fresh, dir)
	}
	return renameAside(fresh, dir) // a file system without exchange
}
