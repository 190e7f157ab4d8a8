#!/usr/bin/env bash
# Lets gateways in at the broker of docker-compose.yml: makes a secret at random for each, prints it once as NAME SECRET, and keeps its hash in
# deploy/secrets/mqtt-gateways. A gateway that is there already gets a new secret. The broker reads the file when it starts:
#   deploy/broker-gateway.sh gw-1 gw-2 && docker compose restart mosquitto
#   deploy/broker-gateway.sh --remove gw-1 && docker compose restart mosquitto
# Needs openssl, and mosquitto_passwd or docker with the broker's image. SECRETS_DIRECTORY is deploy/secrets.
set -euo pipefail
directory="${SECRETS_DIRECTORY:-$(dirname "$0")/secrets}"

remove=false
if [ "${1:-}" = --remove ]; then remove=true; shift; fi
if [ $# -eq 0 ]; then sed -n '2,7p' "$0" | sed 's/^# \{0,1\}//'; exit 2; fi
[ -e "$directory/mqtt-gateways" ] || { echo "no $directory/mqtt-gateways: run deploy/secrets.sh first" >&2; exit 1; }
for name in "$@"; do
  if ! [[ "$name" =~ ^[a-z0-9][a-z0-9._-]{0,62}$ ]] || [ "$name" = unknown ] || [[ "$name" =~ ^rimecast(-ingest-.*)?$ ]]; then
    echo "'$name' is no name of a gateway: [a-z0-9][a-z0-9._-]{0,62}, and neither unknown nor rimecast or rimecast-ingest-…" >&2
    exit 2
  fi
done

# In memory where the system has such a place: secrets in the clear are on no disk.
scratch="$(mktemp -d -p "$(if [ -w /dev/shm ]; then echo /dev/shm; else echo "${TMPDIR:-/tmp}"; fi)")"
trap 'rm -rf "$scratch"' EXIT
umask 077

awk -F: 'NR == FNR { gone[$1]; next } !($1 in gone)' <(printf '%s\n' "$@") "$directory/mqtt-gateways" >"$scratch/all"
if ! $remove; then
  for name in "$@"; do printf '%s:%s\n' "$name" "$(openssl rand -hex 32)" >>"$scratch/new"; done
  cp "$scratch/new" "$scratch/hashed"
  if command -v mosquitto_passwd >/dev/null; then
    mosquitto_passwd -U "$scratch/hashed"
  else
    docker run --rm -i --entrypoint sh "${MOSQUITTO_IMAGE:-eclipse-mosquitto:2}" \
      -c 'cat >/tmp/new && mosquitto_passwd -U /tmp/new && cat /tmp/new' <"$scratch/new" >"$scratch/hashed"
  fi
  cat "$scratch/hashed" >>"$scratch/all"
fi
# In place: a container has this very file.
cat "$scratch/all" >"$directory/mqtt-gateways"
$remove || tr : ' ' <"$scratch/new"
