package main

import (
	"context"
	"flag"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"os"
	"time"

	"rungbook/internal/boot"
)

func serve(ctx context.Context, args []string) error {
	flags := flag.NewFlagSet("serve", flag.ContinueOnError)
	if err := flags.Parse(args); err != nil {
		return err
	}
	house, config, err := open(ctx)
	if err != nil {
		return err
	}
	defer house.Close()
	if err := house.CheckSafe(ctx); err != nil {
		return err
	}
	listener, err := net.Listen("tcp", config.Addr)
	if err != nil {
		return fmt.Errorf("listen on RUNGBOOK_ADDR: %w", err)
	}
	fmt.Fprintln(os.Stderr, "serving on http://"+listener.Addr().String())
	return house.Serve(ctx, listener)
}

// open wires the house from the environment.
func open(ctx context.Context) (*boot.House, boot.Config, error) {
	config, err := boot.ReadConfig()
	if err != nil {
		return nil, config, err
	}
	house, err := boot.New(ctx, config, slog.New(slog.NewTextHandler(os.Stderr, nil)), time.Now)
	return house, config, err
}

func health(ctx context.Context, args []string) error {
	config, err := boot.ReadConfig()
	if err != nil {
		return err
	}
	_, port, err := net.SplitHostPort(config.Addr)
	if err != nil {
		return fmt.Errorf("RUNGBOOK_ADDR: %w", err)
	}
	request, err := http.NewRequestWithContext(ctx, http.MethodGet, "http://"+net.JoinHostPort("127.0.0.1", port)+"/healthz", nil)
	if err != nil {
		return fmt.Errorf("ask for health: %w", err)
	}
	answer, err := (&http.Client{Timeout: 3 * time.Second}).Do(request)
	if err != nil {
		return fmt.Errorf("ask for health: %w", err)
	}
	defer answer.Body.Close()
	if answer.StatusCode != http.StatusOK {
		return fmt.Errorf("the program answers %s", answer.Status)
	}
	return nil
}
