// Package db holds what the program knows of its database: the migrations and the starter skill library, as data.
package db

import "embed"

// Migrations holds migrations/NNNN_name.{up,down}.sql.
//
//go:embed migrations/*.sql
var Migrations embed.FS

// Library holds library/<ladder>.yaml, the starter skill library.
//
//go:embed all:library
var Library embed.FS
