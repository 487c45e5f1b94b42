package main

import (
	"context"
	"flag"
	"os"
)

// checkTrail needs the database only, not a copy that serves.
func checkTrail(ctx context.Context, args []string) error {
	flags := flag.NewFlagSet("check-trail", flag.ContinueOnError)
	head := flags.String("head", "", "hash that an earlier check has told: it must still be there")
	if err := flags.Parse(args); err != nil {
		return err
	}
	house, _, err := open(ctx)
	if err != nil {
		return err
	}
	defer house.Close()
	return house.CheckTrail(ctx, *head, os.Stdout)
}
