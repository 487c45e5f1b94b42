package main

import (
	"context"
	"fmt"

	"rungbook/internal/boot"
)

func migrate(_ context.Context, _ []string) error {
	config, err := boot.ReadConfig()
	if err != nil {
		return err
	}
	if err := boot.Migrate(config); err != nil {
		return err
	}
	fmt.Println("The database is up to date.")
	return nil
}
