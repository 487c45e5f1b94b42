package testkit

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"os"
	"time"

	"github.com/testcontainers/testcontainers-go"
	tcpostgres "github.com/testcontainers/testcontainers-go/modules/postgres"

	"rungbook/internal/embeddedpg"
)

const (
	// serverVariable names a PostgreSQL to use, by a superuser's address.
	serverVariable = "RUNGBOOK_TEST_DATABASE_URL"
	// imageVariable names another container image with PostgreSQL 15 or newer.
	imageVariable = "RUNGBOOK_TEST_POSTGRES_IMAGE"
	defaultImage  = "postgres:17"
	// testWords is the serving role's password on the server that the variable
	// names: test programs that come later have to know it.
	testWords = "only-for-tests"

	openWait = 6 * time.Minute
)

// openServer takes the first of: the server that RUNGBOOK_TEST_DATABASE_URL
// names; a private one from the programs on this machine (the fastest); a
// container; a private one from downloaded programs.
func openServer() (server, error) {
	if admin := os.Getenv(serverVariable); admin != "" {
		return server{admin: admin, appWords: testWords}, nil
	}
	ctx, cancel := context.WithTimeout(context.Background(), openWait)
	defer cancel()
	s, err := openShared(ctx, true)
	if err == nil || !errors.Is(err, embeddedpg.ErrNotInstalled) {
		return s, err
	}
	if engineAnswers(ctx) {
		return openContainer(ctx)
	}
	return openShared(ctx, false)
}

// engineAnswers reports whether a container engine runs on this machine.
func engineAnswers(ctx context.Context) bool {
	provider, err := testcontainers.NewDockerProvider()
	if err != nil {
		return false
	}
	defer provider.Close()
	return provider.Health(ctx) == nil
}

// openContainer starts PostgreSQL in a container for this test program. The
// engine's own keeper removes it when the tests have ended.
func openContainer(ctx context.Context) (server, error) {
	image := os.Getenv(imageVariable)
	if image == "" {
		image = defaultImage
	}
	words := rand.Text() // the engine may open the port to other machines
	c, err := tcpostgres.Run(ctx, image,
		tcpostgres.WithUsername(embeddedpg.Owner),
		tcpostgres.WithPassword(words),
		tcpostgres.WithDatabase(embeddedpg.Database),
		tcpostgres.BasicWaitStrategies(),
		testcontainers.WithCmdArgs("-c", "full_page_writes=off", "-c", "max_connections=400"),
	)
	if err != nil {
		return server{}, fmt.Errorf("start PostgreSQL in a container: %w", err)
	}
	admin, err := c.ConnectionString(ctx, "sslmode=disable")
	if err != nil {
		return server{}, fmt.Errorf("find PostgreSQL in its container: %w", err)
	}
	return server{admin: admin, appWords: words}, nil
}
