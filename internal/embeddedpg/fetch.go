package embeddedpg

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"time"

	downloader "github.com/fergusstrange/embedded-postgres"
)

const (
	downloadWait = 3 * time.Minute
	installWait  = 5 * time.Minute
)

// download fetches server programs into c.Dir/downloaded/VERSION.
//
// The library that fetches them can also run a server, and then deletes data of
// another version. It therefore gets a scratch folder for every path, always
// the version, and never sees our data. As it has no call
// that only downloads, it is let to start (and stop) a server in that scratch
// folder; as root that part fails, and does not matter.
func download(ctx context.Context, c Config, major int) error {
	version, err := downloadVersion(c.Version, major)
	if err != nil {
		return err
	}
	c.Say("Downloading PostgreSQL " + string(version) + ", about 30 MB.")
	home := filepath.Join(c.Dir, "downloaded", string(version))
	if err := os.MkdirAll(filepath.Dir(home), 0o755); err != nil {
		return fmt.Errorf("download PostgreSQL: %w", err)
	}
	scratch, err := os.MkdirTemp(c.Dir, "download-")
	if err != nil {
		return fmt.Errorf("download PostgreSQL: %w", err)
	}
	programs := filepath.Join(scratch, "programs")
	port, err := freePort()
	if err != nil {
		return err
	}
	settings := downloader.DefaultConfig().
		Version(version).
		Port(uint32(port)).
		CachePath(filepath.Join(scratch, "cache")).
		RuntimePath(filepath.Join(scratch, "runtime")).
		DataPath(filepath.Join(scratch, "data")).
		BinariesPath(programs).
		StartParameters(map[string]string{"unix_socket_directories": ""}).
		Logger(io.Discard)
	if c.Mirror != "" {
		settings = settings.BinaryRepositoryURL(c.Mirror)
	}
	pg := downloader.NewDatabase(settings)

	done := make(chan error, 1)
	go func() {
		err := pg.Start()
		if err == nil {
			err = pg.Stop()
		}
		done <- err
	}()
	select {
	case err = <-done:
		defer os.RemoveAll(scratch)
	case <-ctx.Done():
		return fmt.Errorf("download PostgreSQL: %w", ctx.Err())
	case <-time.After(downloadWait): // the library knows no time limit
		return fmt.Errorf("download PostgreSQL: no answer within %s", downloadWait)
	}
	if programMajor(ctx, filepath.Join(programs, "bin")) == 0 {
		return fmt.Errorf("download PostgreSQL %s: %w", version, err)
	}
	if err := readableByAll(programs); err != nil {
		return fmt.Errorf("download PostgreSQL: %w", err)
	}
	if err := os.Rename(programs, home); err != nil {
		return fmt.Errorf("download PostgreSQL: %w", err)
	}
	return nil
}

// downloadVersion is the version asked for, or a known one of the data's major version.
func downloadVersion(asked string, major int) (downloader.PostgresVersion, error) {
	if asked != "" {
		return downloader.PostgresVersion(asked), nil
	}
	switch major {
	case 0, 17:
		return downloader.V17, nil
	case 15:
		return downloader.V15, nil
	case 16:
		return downloader.V16, nil
	case 18:
		return downloader.V18, nil
	}
	return "", fmt.Errorf("no download of PostgreSQL %d is known", major)
}

// readableByAll lets the database's account run programs that root fetched.
func readableByAll(root string) error {
	return filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.Type()&fs.ModeSymlink != 0 {
			return err
		}
		info, err := d.Info()
		if err != nil {
			return err
		}
		mode := info.Mode().Perm() | 0o444
		if d.IsDir() || mode&0o100 != 0 {
			mode |= 0o111
		}
		return os.Chmod(path, mode)
	})
}

// install has Debian's package manager install PostgreSQL, where that exists
// and the program runs as root.
func install(ctx context.Context, say func(string)) error {
	apt, err := exec.LookPath("apt-get")
	if err != nil || os.Geteuid() != 0 {
		return errors.New("installing it takes root on Debian or Ubuntu")
	}
	ctx, cancel := context.WithTimeout(ctx, installWait)
	defer cancel()
	say("Installing PostgreSQL with apt-get.")
	for _, args := range [][]string{{"update"}, {"install", "-y", "--no-install-recommends", "postgresql"}} {
		cmd := exec.CommandContext(ctx, apt, args...)
		cmd.Env = append(os.Environ(), "DEBIAN_FRONTEND=noninteractive")
		if out, err := cmd.CombinedOutput(); err != nil {
			return fmt.Errorf("apt-get %s: %w: %.500s", args[0], err, out)
		}
	}
	return nil
}
