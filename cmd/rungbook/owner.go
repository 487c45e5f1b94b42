package main

import (
	"bufio"
	"context"
	"flag"
	"fmt"
	"os"
	"strings"
)

func owner(ctx context.Context, args []string) error {
	flags := flag.NewFlagSet("owner", flag.ContinueOnError)
	email := flags.String("email", "", "e-mail address to sign in with")
	name := flags.String("name", "", "name as others see it")
	if err := flags.Parse(args); err != nil {
		return err
	}
	if *email == "" || *name == "" {
		return fmt.Errorf("say -email and -name")
	}
	house, config, err := open(ctx)
	if err != nil {
		return err
	}
	defer house.Close()
	fmt.Fprint(os.Stderr, "Passphrase (15 characters or more, one line on standard input): ")
	line, err := bufio.NewReader(os.Stdin).ReadString('\n')
	if err != nil && line == "" {
		return fmt.Errorf("read the passphrase: %w", err)
	}
	if err := house.App.FirstOwner(ctx, *email, *name, strings.TrimRight(line, "\r\n")); err != nil {
		return err
	}
	fmt.Println("Made. Sign in at", config.BaseURL)
	return nil
}
