#!/usr/bin/env bash
# Makes what docker-compose.yml and docker-compose.cluster.yml read as secrets, where it is not there yet: passwords of the database and the broker, and
# keys with certificates by which Kafka and the product know each other. Needs openssl. Usage: deploy/secrets.sh [DIRECTORY; deploy/secrets]
# New keys of Kafka: delete DIRECTORY/kafka.pem, run this, and start everything again.
set -euo pipefail
directory="${1:-$(dirname "$0")/secrets}"
days=3650

mkdir -p "$directory"
# Nobody else on this machine gets in; containers get single files of it, whoever they run as.
chmod 700 "$directory"
cd "$directory"
umask 022

for of in superuser owner application; do
  # Where earlier versions had it.
  if [ ! -s "database-$of" ] && [ -s "../database-$of" ]; then mv "../database-$of" .; fi
  [ -s "database-$of" ] || openssl rand -hex 24 >"database-$of"
done

# Of ingest at the broker; those of gateways are made by broker-gateway.sh.
[ -s mqtt-broker ] || openssl rand -hex 24 >mqtt-broker
[ -e mqtt-gateways ] || : >mqtt-gateways

[ ! -s kafka.pem ] || exit 0
scratch="$(mktemp -d)"
trap 'rm -rf "$scratch"' EXIT
ec=(-newkey ec -pkeyopt ec_paramgen_curve:P-256 -nodes)

# The authority signs these two and nothing else: its key is gone when this ends.
openssl req -x509 "${ec[@]}" -days "$days" -subj "/CN=Kafka's own authority" -keyout "$scratch/ca.key" -out "$scratch/ca.crt" 2>/dev/null

sign() { # name, extensions
  openssl req "${ec[@]}" -subj "/CN=$1" -keyout "$scratch/$1.key" -out "$scratch/$1.csr" 2>/dev/null
  openssl x509 -req -in "$scratch/$1.csr" -CA "$scratch/ca.crt" -CAkey "$scratch/ca.key" -CAcreateserial -days "$days" \
    -extfile <(printf '%s\n' "${@:2}") -out "$scratch/$1.crt" 2>/dev/null
}
# Kafkas speak to each other, too, and all are at this address; on several machines add their names.
sign kafka "subjectAltName=${KAFKA_NAMES:-IP:127.0.0.1,DNS:localhost}" extendedKeyUsage=serverAuth,clientAuth
sign rimecast extendedKeyUsage=clientAuth

cp "$scratch/ca.crt" kafka-ca.crt
cp "$scratch/rimecast.crt" "$scratch/rimecast.key" .
chmod 644 rimecast.key
cat "$scratch/kafka.key" "$scratch/kafka.crt" >kafka.new
chmod 644 kafka.new
mv kafka.new kafka.pem
