//go:build linux

package main

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"
	"unsafe"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"

	"hollowbed/cmd/hollowbed/store"
)

// failing runs every command that writes where it cannot, and wants a short
// message, status 1, and a folder as it was. prepare makes the folder such; run
// runs the program.
func failing(t *testing.T, message string, base func(t *testing.T) string, prepare func(t *testing.T, dir string), run func(*exec.Cmd) error) {
	t.Helper()
	program := copied(t)
	for _, c := range testenv.Some(killCases(t)) {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			dir := base(t)
			c.before(t, dir)
			prepare(t, dir)
			old := state(t, dir)
			cmd := exec.Command(program, strings.Fields(strings.ReplaceAll(c.args, "$dir", dir))...)
			var errs strings.Builder
			cmd.Stderr = &errs
			require.Error(t, run(cmd))
			assert.Equal(t, exitFailed, cmd.ProcessState.ExitCode(), errs.String())
			assert.Regexp(t, message, errs.String())
			lines := strings.Split(strings.TrimSpace(errs.String()), "\n")
			assert.True(t, strings.HasPrefix(lines[len(lines)-1], "hollowbed: "+dir), "it names the file or the folder: %s", errs.String())
			assert.NotContains(t, errs.String(), ".hollowbed-draft-")
			assert.Equal(t, old, state(t, dir))
		})
	}
}

// copied is the program where every user of the machine can run it.
func copied(t *testing.T) string {
	t.Helper()
	from, err := exec.LookPath("hollowbed")
	require.NoError(t, err)
	dir, err := os.MkdirTemp("", "hollowbed-test-*")
	require.NoError(t, err)
	t.Cleanup(func() { os.RemoveAll(dir) })
	require.NoError(t, os.Chmod(dir, 0o755))
	from, err = filepath.EvalSymlinks(from)
	require.NoError(t, err)
	to := filepath.Join(dir, "hollowbed")
	if os.Link(from, to) == nil {
		return to
	}
	text, err := os.ReadFile(from) // on another disk
	require.NoError(t, err)
	executable(t, to, text)
	return to
}

// open is a folder that every user can enter and, at first, write to.
func open(t *testing.T) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "hollowbed-test-*")
	require.NoError(t, err)
	t.Cleanup(func() { os.RemoveAll(dir) })
	require.NoError(t, os.Chmod(dir, 0o777))
	return dir
}

// mounted is a folder on a disk of its own in memory; the test is skipped where
// that is not allowed, as in many a container. What is told there is tested with
// no rights at all: full from the first byte by TestDiskSaysFull, in the middle
// of a file by TestFileLimit, read-only by TestDiskSaysReadOnly.
func mounted(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=2m"); err != nil {
		t.Skipf("no disk of its own can be mounted here: %v", err)
	}
	t.Cleanup(func() { assert.NoError(t, notBusy(func() error { return syscall.Unmount(dir, 0) })) })
	return dir
}

// notBusy tries again while a program that another test is just starting still has
// this one's open files, as it has between fork and exec.
func notBusy(try func() error) error {
	for range 100 {
		if err := try(); err != syscall.EBUSY {
			return err
		}
		time.Sleep(50 * time.Millisecond)
	}
	return syscall.EBUSY
}

// under runs a program for which the kernel answers some calls with an error, by
// a filter that anybody may set on a thread of theirs and that its children
// inherit (seccomp(2)). The thread ends with it.
func under(filter []syscall.SockFilter) func(*exec.Cmd) error {
	return func(cmd *exec.Cmd) error {
		// No file is opened under the filter, for output or input: the test's own
		// log of opened files would be written there, and fail.
		cmd.Stdin, cmd.Stdout = strings.NewReader(""), io.Discard
		failed := make(chan error)
		go func() {
			runtime.LockOSThread() // and never unlock it
			const noNewPrivileges, setSeccomp, modeFilter = 38, 22, 2
			rules := syscall.SockFprog{Len: uint16(len(filter)), Filter: &filter[0]}
			if _, _, errno := syscall.RawSyscall6(syscall.SYS_PRCTL, noNewPrivileges, 1, 0, 0, 0, 0); errno != 0 {
				failed <- fmt.Errorf("no new privileges: %w", errno)
			} else if _, _, errno := syscall.RawSyscall(syscall.SYS_PRCTL, setSeccomp, modeFilter, uintptr(unsafe.Pointer(&rules))); errno != 0 {
				failed <- fmt.Errorf("filter: %w", errno)
			} else {
				failed <- cmd.Start()
			}
		}()
		if err := <-failed; err != nil {
			panic(err) // not what is tested
		}
		return cmd.Wait()
	}
}

// Steps of a filter: what it looks at, and where it goes on from there.
func load(offset uint32) syscall.SockFilter {
	return syscall.SockFilter{Code: syscall.BPF_LD | syscall.BPF_W | syscall.BPF_ABS, K: offset}
}

func jump(how uint16, k uint32, yes, no uint8) syscall.SockFilter {
	return syscall.SockFilter{Code: syscall.BPF_JMP | how | syscall.BPF_K, K: k, Jt: yes, Jf: no}
}

func answer(k uint32) syscall.SockFilter {
	return syscall.SockFilter{Code: syscall.BPF_RET | syscall.BPF_K, K: k}
}

const (
	allowed = 0x7fff0000 // SECCOMP_RET_ALLOW
	refused = 0x00050000 // SECCOMP_RET_ERRNO, with the error in its lower half
)

// argument is where a filter finds the lower half of an argument of a call.
func argument(i uint32) uint32 { return 16 + 8*i }

// A disk that is full from the first byte on: what is written to a file is
// refused. Eight bytes are let through: Go wakes its own threads by them.
func TestDiskSaysFull(t *testing.T) {
	t.Parallel()
	failing(t, `not written: no space left on device`, open, func(t *testing.T, dir string) {}, under([]syscall.SockFilter{
		load(0),
		jump(syscall.BPF_JEQ, syscall.SYS_WRITE, 1, 0),
		jump(syscall.BPF_JEQ, syscall.SYS_PWRITE64, 0, 4),
		load(argument(0)),
		jump(syscall.BPF_JGT, 2, 0, 2), // not the standard streams
		load(argument(2)),
		jump(syscall.BPF_JEQ, 8, 0, 1),
		answer(allowed),
		answer(refused | uint32(syscall.ENOSPC)),
	}))
}

// A disk where no file can be opened for writing.
func TestDiskSaysReadOnly(t *testing.T) {
	t.Parallel()
	failing(t, `not written: read-only file system`, open, func(t *testing.T, dir string) {}, under([]syscall.SockFilter{
		load(0),
		jump(syscall.BPF_JEQ, syscall.SYS_OPENAT, 0, 2),
		load(argument(2)),
		jump(syscall.BPF_JSET, syscall.O_WRONLY|syscall.O_RDWR, 1, 0),
		answer(allowed),
		answer(refused | uint32(syscall.EROFS)),
	}))
}

// A disk that takes what is written and then cannot keep it.
func TestDiskCannotKeep(t *testing.T) {
	t.Parallel()
	program, dir := copied(t), open(t)
	table := filepath.Join(dir, "rows.csv")
	require.NoError(t, os.WriteFile(table, []byte("id,roof.area\na,90 m2\n"), 0o644))
	for _, line := range []string{"batch $dir/rows.csv --what basin --out $dir/out.jsonl", "report --out $dir/page.html", "start $dir/new" + startLine} {
		cmd := exec.Command(program, strings.Fields(strings.ReplaceAll(line, "$dir", dir))...)
		var errs strings.Builder
		cmd.Stderr = &errs
		require.Error(t, under([]syscall.SockFilter{
			load(0),
			jump(syscall.BPF_JEQ, syscall.SYS_FSYNC, 0, 1),
			answer(refused | uint32(syscall.EIO)),
			answer(allowed),
		})(cmd), line)
		assert.Equal(t, exitFailed, cmd.ProcessState.ExitCode(), errs.String())
		assert.Contains(t, errs.String(), "not written: input/output error", line)
	}
}

// A full disk: a small one that is filled to the last page.
func TestFullDisk(t *testing.T) {
	t.Parallel()
	failing(t, `not written: no space left on device`, mounted, func(t *testing.T, dir string) {
		// the lock is there already, as after any run before, since an empty file takes room too on some disks
		require.NoError(t, os.WriteFile(filepath.Join(dir, ".hollowbed.lock"), nil, 0o644))
		f, err := os.Create(filepath.Join(dir, "filling"))
		require.NoError(t, err)
		defer f.Close()
		page := make([]byte, 512)
		for err == nil {
			_, err = f.Write(page)
		}
		require.ErrorIs(t, err, syscall.ENOSPC)
	}, (*exec.Cmd).Run)
}

// A limit on the size of files, as an office may set, meets every write in its
// middle: each of these files has over 1 kB.
func TestFileLimit(t *testing.T) {
	t.Parallel()
	sh, err := exec.LookPath("sh")
	require.NoError(t, err)
	failing(t, `not written: file too large`, open, func(t *testing.T, dir string) {}, func(cmd *exec.Cmd) error {
		cmd.Args = append([]string{sh, "-c", `ulimit -f 1 && exec "$@"`, "sh"}, cmd.Args...)
		cmd.Path = sh
		return cmd.Run()
	})
}

// A folder in which nothing may be written, for a user who is not root.
func TestReadOnlyFolder(t *testing.T) {
	t.Parallel()
	failing(t, `not written: permission denied`, open, func(t *testing.T, dir string) {
		require.NoError(t, os.Chmod(dir, 0o555))
		t.Cleanup(func() { os.Chmod(dir, 0o755) })
	}, func(cmd *exec.Cmd) error {
		nobody(cmd)
		return cmd.Run()
	})
}

func nobody(cmd *exec.Cmd) {
	if os.Geteuid() == 0 {
		cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
	}
}

// A disk that is mounted for reading only.
func TestReadOnlyDisk(t *testing.T) {
	t.Parallel()
	failing(t, `not written: read-only file system`, mounted, func(t *testing.T, dir string) {
		require.NoError(t, notBusy(func() error { return syscall.Mount("tmpfs", dir, "tmpfs", syscall.MS_REMOUNT|syscall.MS_RDONLY, "") }))
	}, (*exec.Cmd).Run)
}

// Commands that only read need no more than that.
func TestReadsWhereNothingCanBeWritten(t *testing.T) {
	t.Parallel()
	program := copied(t)
	dir := open(t)
	for name, text := range small(t) {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o444))
	}
	require.NoError(t, os.Chmod(dir, 0o555))
	for _, line := range []string{"basin", "zones", "find blue", "find --in rim", "choose", "choose --json", "care --planted 2026-10-10", "report"} {
		cmd := exec.Command(program, append(strings.Fields(line), "--garden", dir)...)
		nobody(cmd)
		cmd.Env = []string{} // no home, no folder for the moment
		out, err := cmd.CombinedOutput()
		require.NoError(t, err, "%s: %s", line, out)
	}
}

// A pipe is written to and stays a pipe; a device that is full says so.
func TestReplaceWritesThrough(t *testing.T) {
	t.Parallel()
	pipe := filepath.Join(t.TempDir(), "pipe")
	require.NoError(t, syscall.Mkfifo(pipe, 0o600))
	got := make(chan string)
	go func() {
		f, err := os.Open(pipe)
		if err != nil {
			got <- err.Error()
			return
		}
		defer f.Close()
		text, _ := io.ReadAll(f)
		got <- string(text)
	}()
	status, _, errs := ask(t, "", "place", "--plan", pipe)
	require.Zero(t, status, errs)
	assert.Contains(t, <-got, "<svg")
	info, err := os.Lstat(pipe)
	require.NoError(t, err)
	assert.Equal(t, os.ModeNamedPipe, info.Mode().Type())

	if info, err := os.Stat("/dev/full"); err == nil && info.Mode()&os.ModeCharDevice != 0 {
		err := store.Replace("/dev/full", []byte("x"))
		require.EqualError(t, err, "/dev/full: not written: no space left on device")
	}
}

// The lines of a batch go to a plain file, not to a device or a pipe, which might
// never end when they are read for --resume.
func TestBatchWantsAPlainFile(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	table := filepath.Join(dir, "t.csv")
	require.NoError(t, os.WriteFile(table, []byte("id,roof.area\na,90 m2\n"), 0o644))
	pipe := filepath.Join(dir, "pipe")
	require.NoError(t, syscall.Mkfifo(pipe, 0o600))
	for _, name := range []string{pipe, "/dev/zero", dir} {
		status, _, errs := ask(t, "", "batch", table, "--what", "basin", "--resume", name)
		assert.Equal(t, exitBad, status)
		assert.Contains(t, errs, name+": is no plain file: want one")
	}
}

// Somebody else holds the lock for longer than anybody waits.
func TestLocked(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	c := killCases(t)[2]
	c.before(t, dir)
	old := state(t, dir)
	kept, err := store.Open(dir, io.Discard)
	require.NoError(t, err)
	unlock, err := kept.Lock()
	require.NoError(t, err)
	defer unlock()
	status, _, errs := ask(t, "", "place", "--garden", dir)
	assert.Equal(t, exitFailed, status)
	assert.Contains(t, errs, fmt.Sprintf("hollowbed: %s: not written: another hollowbed is writing there: try again when that is done", dir))
	assert.Equal(t, old, state(t, dir))
}
