package main

import (
	"context"
	"flag"
	"fmt"
	"os"

	"rungbook/internal/boot"
)

func demo(ctx context.Context, args []string) error {
	flags := flag.NewFlagSet("demo", flag.ContinueOnError)
	addr := flags.String("addr", "", "address to serve on; by default 127.0.0.1:8080 or the next free port")
	dir := flags.String("dir", "", "folder that keeps the private database; by default one of the user's own")
	if err := flags.Parse(args); err != nil {
		return err
	}
	return boot.Demo(ctx, boot.DemoOptions{Addr: *addr, Dir: *dir, Out: os.Stdout, Say: func(s string) { fmt.Fprintln(os.Stderr, s) }})
}
