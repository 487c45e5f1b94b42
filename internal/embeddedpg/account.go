package embeddedpg

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/user"
	"path/filepath"
	"strconv"
	"syscall"
)

// account is who the database runs as. PostgreSQL refuses to run as root, so a
// root's database runs as an unprivileged account; anybody else's as themselves.
type account struct {
	drop     bool
	uid, gid uint32
}

// prepareDir makes the private folder and settles which account it belongs to.
func prepareDir(dir string) (account, error) {
	who := chooseAccount(dir)
	parent := filepath.Dir(dir)
	if err := os.MkdirAll(parent, 0o755); err != nil {
		return who, fmt.Errorf("make the private database's folder: %w", err)
	}
	if err := os.Mkdir(dir, 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
		return who, fmt.Errorf("make the private database's folder: %w", err)
	}
	if blocked := who.blockedAt(parent); blocked != "" {
		return who, fmt.Errorf("the database's account (user id %d) may not enter %s: choose a folder outside of it, such as /var/lib/rungbook", who.uid, blocked)
	}
	return who, who.own(dir)
}

// chooseAccount keeps to the owner of a cluster that exists, else takes the
// machine's account for PostgreSQL, else the one for nobody.
func chooseAccount(dir string) account {
	if os.Geteuid() != 0 {
		return account{}
	}
	if info, err := os.Stat(filepath.Join(dir, "data")); err == nil {
		if st := info.Sys().(*syscall.Stat_t); st.Uid != 0 {
			return account{drop: true, uid: st.Uid, gid: st.Gid}
		}
	}
	for _, name := range []string{"postgres", "nobody"} {
		if u, err := user.Lookup(name); err == nil {
			uid, err1 := strconv.ParseUint(u.Uid, 10, 32)
			gid, err2 := strconv.ParseUint(u.Gid, 10, 32)
			if err1 == nil && err2 == nil && uid != 0 {
				return account{drop: true, uid: uint32(uid), gid: uint32(gid)}
			}
		}
	}
	return account{drop: true, uid: 65534, gid: 65534}
}

// attributes makes a child process run as the account, in its own process group.
func (a account) attributes() *syscall.SysProcAttr {
	attr := &syscall.SysProcAttr{Setpgid: true}
	if a.drop {
		attr.Credential = &syscall.Credential{Uid: a.uid, Gid: a.gid}
	}
	return attr
}

// own hands a path that root made to the account.
func (a account) own(path string) error {
	if !a.drop {
		return nil
	}
	if err := os.Chown(path, int(a.uid), int(a.gid)); err != nil {
		return fmt.Errorf("hand %s to the database's account: %w", path, err)
	}
	return nil
}

// blockedAt names the first folder above and including dir that the account may
// not enter, or "".
func (a account) blockedAt(dir string) string {
	if !a.drop {
		return ""
	}
	blocked := ""
	for ; ; dir = filepath.Dir(dir) {
		if info, err := os.Stat(dir); err == nil {
			st := info.Sys().(*syscall.Stat_t)
			mode := info.Mode().Perm()
			if mode&0o001 == 0 && !(st.Uid == a.uid && mode&0o100 != 0) {
				blocked = dir
			}
		}
		if dir == filepath.Dir(dir) {
			return blocked
		}
	}
}

// lockFile takes the exclusive lock on a file, held until the file is closed or
// the process ends; it fails at once when another process holds it.
func lockFile(path string) (*os.File, error) {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return nil, err
	}
	if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err != nil {
		f.Close()
		return nil, err
	}
	return f, nil
}
