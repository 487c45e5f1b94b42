#!/bin/sh
# Writes one backup of the database, checks that it can be read, and removes
# backups older than KEEP_DAYS. See deploy/backup.md.
#
#   RUNGBOOK_OWNER_URL=postgres://... deploy/backup.sh FOLDER
#
# With docker compose, from the top folder:
#
#   DUMP="docker compose exec -T db sh -c" deploy/backup.sh FOLDER
set -eu
umask 077

folder=${1:?"usage: backup.sh FOLDER"}
keep_days=${KEEP_DAYS:-35}
mkdir -p "$folder"
name="$folder/rungbook-$(date -u +%Y%m%dT%H%M%SZ).dump"
trap 'rm -f "$name.part"' EXIT

if [ -n "${DUMP:-}" ]; then
  $DUMP 'PGPASSWORD=$POSTGRES_PASSWORD pg_dump --format=custom --username=$POSTGRES_USER $POSTGRES_DB' >"$name.part"
else
  pg_dump --format=custom --file="$name.part" --dbname="${RUNGBOOK_OWNER_URL:?is not set}"
fi

# pg_restore can read it from end to end, and it holds the tables' rows.
if command -v pg_restore >/dev/null; then
  pg_restore --file=/dev/null "$name.part"
  pg_restore --list "$name.part" | grep -q 'TABLE DATA public child '
fi
sync
mv "$name.part" "$name"
find "$folder" -name 'rungbook-*.dump' -type f -mtime "+$keep_days" -delete
echo "$name"
