// Command rungbook is a studio's acro curriculum: skill library, where each child stands, lesson plans, home drills, reports.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/signal"
	"syscall"
)

const usage = `rungbook - a dance studio's acro curriculum

  rungbook demo [-addr HOST:PORT] [-dir DIR]   an invented studio on a private database, to look around
  rungbook serve                               serve the studio's database
  rungbook migrate                             bring the database up to this version
  rungbook owner -email E -name N              make the first account; the passphrase is asked for
  rungbook owner -email E -lost                let an owner in again who lost passphrase, code or passkey
  rungbook import roster FILE.csv [-dry-run]   read children, classes and guardians
  rungbook import library DIR                  read a skill library
  rungbook export library DIR                  write the skill library
  rungbook check-trail [-head HASH]            check that the trail is as it was written
  rungbook health                              ask a running copy whether it is well

The environment is described in README.md.
`

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	err := run(ctx, os.Args[1:])
	stop()
	switch {
	case errors.Is(err, flag.ErrHelp):
		os.Exit(2)
	case err != nil:
		fmt.Fprintln(os.Stderr, "rungbook:", err)
		os.Exit(1)
	}
}

func run(ctx context.Context, args []string) error {
	if len(args) == 0 {
		fmt.Fprint(os.Stderr, usage)
		return flag.ErrHelp
	}
	verbs := map[string]func(context.Context, []string) error{
		"demo": demo, "serve": serve, "migrate": migrate, "owner": owner, "import": importInto, "export": exportFrom, "check-trail": checkTrail, "health": health,
	}
	verb, ok := verbs[args[0]]
	if !ok {
		fmt.Fprint(os.Stderr, usage)
		return fmt.Errorf("there is no command %q", args[0])
	}
	return verb(ctx, args[1:])
}
