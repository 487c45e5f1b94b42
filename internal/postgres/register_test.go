package postgres_test

import (
	"slices"
	"testing"

	"github.com/jackc/pgx/v5"
	"rungbook/internal/postgres"
	"rungbook/internal/testkit"
)

// Every table and every column of a table about a child is in the register, with what a copy of a child's data makes of it. A new
// column that nobody classed fails here.
func TestEveryColumnHasAClass(t *testing.T) {
	conn, err := pgx.Connect(t.Context(), testkit.Owner(t))
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(t.Context())
	rows, err := conn.Query(t.Context(), `select table_name::text, array_agg(column_name::text) from information_schema.columns
		where table_schema = 'public' and table_name <> 'schema_migrations' group by 1`)
	if err != nil {
		t.Fatal(err)
	}
	tables := map[string][]string{}
	var name string
	var names []string
	if _, err := pgx.ForEachRow(rows, []any{&name, &names}, func() error { tables[name] = slices.Clone(names); return nil }); err != nil {
		t.Fatal(err)
	}
	for _, wrong := range postgres.CheckRegister(tables) {
		t.Error(wrong)
	}
	tables["child"] = append(tables["child"], "shoe_size")
	tables["pet"] = []string{"id", "child_id"}
	if got := postgres.CheckRegister(tables); !slices.Contains(got, "child.shoe_size has no class") || !slices.Contains(got, "pet has no class") {
		t.Errorf("a new column and a new table are not noticed: %q", got)
	}
}
