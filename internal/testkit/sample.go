package testkit

import (
	_ "embed"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
)

//go:embed sample.sql
var sampleSQL string

// Fill gives the test a database that holds the sample studio of sample.sql, for tests of who may see and change what.
func Fill(t testing.TB) DB {
	t.Helper()
	db := Database(t)
	conn, err := pgx.Connect(t.Context(), db.Owner)
	if err != nil {
		t.Fatalf("reach the test's database: %v", err)
	}
	defer conn.Close(t.Context())
	if _, err := conn.Exec(t.Context(), sampleSQL); err != nil {
		t.Fatalf("fill in the sample studio: %v", err)
	}
	return db
}

// SampleNow is the moment of the sample studio: half an hour into the lesson of class A.
func SampleNow() time.Time { return time.Date(2026, 3, 4, 17, 0, 0, 0, time.UTC) }

// SampleID is the id in sample.sql that ends in those four characters.
func SampleID(end string) uuid.UUID { return uuid.MustParse("00000000-0000-4000-8000-00000000" + end) }
