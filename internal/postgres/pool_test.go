package postgres_test

import (
	"strings"
	"testing"
	"time"

	"rungbook/internal/postgres"
	"rungbook/internal/testkit"
)

func TestServingRoleMustBeBound(t *testing.T) {
	db, err := postgres.Open(t.Context(), testkit.Owner(t), time.Now, time.UTC)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if err := db.CheckSafe(t.Context()); err == nil || !strings.Contains(err.Error(), "rungbook_app") {
		t.Errorf("serving as the owner of the schema: %v", err)
	}
}
