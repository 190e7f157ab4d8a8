#!/bin/sh
# Makes the product's roles and its database in a new PostgreSQL, from secrets in files. The image runs it once, when it makes its data.
set -eu

# psql reads the files itself: a password is on no command line, and may have any characters.
psql --quiet -v ON_ERROR_STOP=1 --username "$POSTGRES_USER" --dbname postgres <<'SQL'
\set owner `cat /run/secrets/database-owner`
\set application `cat /run/secrets/database`
create role rimecast_owner login password :'owner';
create role rimecast login password :'application';
create database rimecast owner rimecast_owner;
SQL
