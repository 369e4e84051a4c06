package store

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"time"

	"github.com/gofrs/flock"
)

// errLocked says that somebody else holds a lock.
var errLocked = errors.New("another hollowbed is writing there: try again when that is done")

// takeLock takes the lock that a file of a folder stands for, and waits at most
// so long. The file is made where need be, never through a link; one that is no
// plain file is refused before it is opened, for a pipe would wait for ever.
func takeLock(dir *os.Root, name string, most time.Duration) (*flock.Flock, error) {
	path := dir.Name() + string(filepath.Separator) + name // not cleaned: a/.. is not . where a is a link
	for end := time.Now().Add(most); ; time.Sleep(100 * time.Millisecond) {
		f, err := dir.OpenFile(name, os.O_RDONLY|os.O_CREATE|os.O_EXCL, 0o600)
		if err == nil {
			f.Close()
		} else if !errors.Is(err, fs.ErrExist) {
			return nil, err
		}
		if info, err := dir.Lstat(name); err == nil && !info.Mode().IsRegular() {
			return nil, bad("%s: is no plain file: take it away", path)
		}
		lock := flock.New(path, flock.SetFlag(os.O_RDONLY|syscall.O_NONBLOCK))
		got, err := lock.TryLock()
		if err != nil && !errors.Is(err, fs.ErrNotExist) { // the run before took it away just now
			return nil, err
		}
		if got {
			held, errHeld := lock.Stat()
			now, errNow := dir.Lstat(name)
			if errHeld == nil && errNow == nil && os.SameFile(held, now) {
				return lock, nil
			}
			_ = lock.Unlock()
		}
		if time.Now().After(end) {
			return nil, errLocked
		}
	}
}
