#!/bin/sh
# Runs once, when the database container makes its cluster: adds the role that
# serves. It owns nothing, and row-level security binds it.
set -eu
psql --no-psqlrc --set=ON_ERROR_STOP=1 --set=word="$RUNGBOOK_APP_PASSWORD" \
  --username="$POSTGRES_USER" --dbname="$POSTGRES_DB" <<'SQL'
create role rungbook_app login nosuperuser nobypassrls nocreatedb nocreaterole noreplication password :'word';
SQL
