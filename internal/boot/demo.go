package boot

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"strconv"
	"syscall"
	"time"

	"rungbook/internal/demo"
	"rungbook/internal/embeddedpg"
	"rungbook/internal/postgres"
)

// DemoOptions are the choices of a demonstration. Addr "" is 127.0.0.1:8080 or the next free port; Dir "" is a folder of the user's
// own. Out receives the addresses and sign-ins, Say each slow step.
type DemoOptions struct {
	Addr, Dir string
	Out       io.Writer
	Say       func(string)
}

// Demo serves the invented studio until the context ends. It uses DATABASE_URL and RUNGBOOK_OWNER_URL where they are set, else a
// private PostgreSQL that keeps its data from one start to the next. Its folder also keeps the key by which secrets are sealed.
func Demo(ctx context.Context, o DemoOptions) error {
	config, err := ReadConfig()
	if err != nil {
		return err
	}
	config.Insecure, config.StudioName, config.TimeZone = true, demo.StudioName, demo.TimeZone
	config.SMTP = SMTP{} // nobody in the invented studio has a letter box
	listener, err := listen(o.Addr)
	if err != nil {
		return err
	}
	defer listener.Close()
	config.BaseURL = demoURL(o.Addr, listener.Addr())
	if o.Dir == "" {
		if o.Dir, err = embeddedpg.DefaultDir("demo"); err != nil {
			return err
		}
	}
	stop, err := privateDatabase(ctx, &config, o)
	if err != nil {
		return err
	}
	defer stop()
	if config.SecretKey == "" {
		if config.SecretKey, err = keepKey(o.Dir); err != nil {
			return err
		}
	}
	house, err := demoHouse(ctx, config)
	if err != nil {
		return err
	}
	defer house.Close()
	o.Say("Loading the invented studio where it is not there yet ...")
	signIns, err := demo.Load(ctx, house.App, time.Now())
	if err != nil {
		return fmt.Errorf("load the demonstration: %w", err)
	}
	announce(o.Out, config.BaseURL, signIns)
	return house.Serve(ctx, listener)
}

func demoHouse(ctx context.Context, config Config) (*House, error) {
	if config.OwnerURL != "" {
		if err := postgres.Migrate(config.OwnerURL); err != nil {
			return nil, err
		}
	}
	return New(ctx, config, slog.New(slog.DiscardHandler), time.Now)
}

// privateDatabase starts a PostgreSQL of our own unless the environment names one.
func privateDatabase(ctx context.Context, config *Config, o DemoOptions) (stop func(), err error) {
	if config.DatabaseURL != "" {
		return func() {}, nil
	}
	o.Say("Starting a private PostgreSQL in " + o.Dir + " ...")
	server, err := embeddedpg.Start(ctx, embeddedpg.Config{Dir: o.Dir, Durable: true, Say: o.Say})
	if err != nil {
		return nil, err
	}
	config.DatabaseURL = server.URL(embeddedpg.Database, embeddedpg.App)
	config.OwnerURL = server.URL(embeddedpg.Database, embeddedpg.Owner)
	return func() {
		if err := server.Stop(); err != nil {
			o.Say("The private PostgreSQL did not stop cleanly: " + err.Error())
		}
	}, nil
}

// listen takes addr, or without one the first free port from 8080 on.
func listen(addr string) (net.Listener, error) {
	if addr != "" {
		l, err := net.Listen("tcp", addr)
		if err != nil {
			return nil, fmt.Errorf("listen on -addr: %w", err)
		}
		return l, nil
	}
	for port := 8080; port < 8100; port++ {
		l, err := net.Listen("tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(port)))
		if err == nil {
			return l, nil
		}
		if !errors.Is(err, syscall.EADDRINUSE) {
			return nil, fmt.Errorf("listen: %w", err)
		}
	}
	return nil, errors.New("ports 8080 to 8099 are all taken: choose one with -addr")
}

// demoURL is where a demonstration is reached: at localhost unless addr names another host, since browsers keep passkeys for names only.
func demoURL(addr string, at net.Addr) string {
	if host, _, err := net.SplitHostPort(addr); err == nil && host != "localhost" {
		return "http://" + at.String()
	}
	_, port, err := net.SplitHostPort(at.String())
	if err != nil {
		return "http://" + at.String()
	}
	return "http://" + net.JoinHostPort("localhost", port)
}

func announce(w io.Writer, url string, signIns []demo.SignIn) {
	fmt.Fprintf(w, "\n%s is open at %s\n\nSign in as\n", demo.StudioName, url)
	for _, s := range signIns {
		fmt.Fprintf(w, "  %-10s %-34s %s\n", s.Role, s.Email, s.Passphrase)
	}
	fmt.Fprint(w, "\nEverything here is invented, and plain HTTP is for this computer only. Ctrl-C stops it; the data stay.\n")
}
