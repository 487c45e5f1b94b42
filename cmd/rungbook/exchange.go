package main

import (
	"context"
	"flag"
	"fmt"
	"os"
)

func importInto(ctx context.Context, args []string) error {
	if len(args) < 2 {
		return fmt.Errorf("say: rungbook import roster FILE.csv, or: rungbook import library DIR")
	}
	house, _, err := open(ctx)
	if err != nil {
		return err
	}
	defer house.Close()
	switch args[0] {
	case "roster":
		flags := flag.NewFlagSet("import roster", flag.ContinueOnError)
		dryRun := flags.Bool("dry-run", false, "say what would happen and change nothing")
		if err := flags.Parse(args[2:]); err != nil {
			return err
		}
		return house.ImportRoster(ctx, args[1], *dryRun, os.Stdout)
	case "library":
		return house.ImportLibrary(ctx, os.DirFS(args[1]), os.Stdout)
	}
	return fmt.Errorf("there is nothing called %q to import; say roster or library", args[0])
}

func exportFrom(ctx context.Context, args []string) error {
	if len(args) != 2 || args[0] != "library" {
		return fmt.Errorf("say: rungbook export library DIR")
	}
	house, _, err := open(ctx)
	if err != nil {
		return err
	}
	defer house.Close()
	return house.ExportLibrary(ctx, args[1], os.Stdout)
}
