package main

import (
	"bufio"
	"context"
	"flag"
	"fmt"
	"os"
	"strings"

	"rungbook/internal/boot"
)

func owner(ctx context.Context, args []string) error {
	flags := flag.NewFlagSet("owner", flag.ContinueOnError)
	email := flags.String("email", "", "e-mail address to sign in with")
	name := flags.String("name", "", "name as others see it")
	lost := flags.Bool("lost", false, "let an owner in again: code and passkeys are switched off, and a link for a new passphrase is printed")
	if err := flags.Parse(args); err != nil {
		return err
	}
	if *email == "" || (*name == "") != *lost {
		return fmt.Errorf("say -email and -name for the first account, or -email and -lost for an owner who cannot get in")
	}
	house, config, err := open(ctx)
	if err != nil {
		return err
	}
	defer house.Close()
	if *lost {
		return letIn(ctx, house, *email)
	}
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

// letIn lets an owner in again who has lost passphrase, code or passkey.
func letIn(ctx context.Context, house *boot.House, email string) error {
	link, err := house.App.RescueOwner(ctx, email)
	if err != nil {
		return err
	}
	fmt.Println("The code and all passkeys are switched off, and every browser is signed out. Choose a new passphrase by this link; it works once, within a day:")
	fmt.Println(link.URL)
	return nil
}
