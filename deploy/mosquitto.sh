#!/bin/sh
# Starts the broker in its container: puts its users together, of which only hashes stay, and chooses the port. A user that is made later gets in
# after a restart of the container.
set -eu
secrets="${SECRETS:-/run/secrets}"
config="${MOSQUITTO_CONFIG:-/mosquitto/config}"
data="${MOSQUITTO_DATA:-/mosquitto/data}"
scratch="${SCRATCH:-/tmp}"

# Read first: within the argument of another command a file that can't be read would stop nothing, and leave an empty password.
secret="$(cat "$secrets/mqtt-broker")"
[ -n "$secret" ] || { echo "$secrets/mqtt-broker is empty: run deploy/secrets.sh first" >&2; exit 1; }

umask 077
: >"$scratch/mosquitto.passwd"
# Those of ingest, each of which is a client of its own at the broker.
for user in rimecast-ingest-1 rimecast-ingest-a rimecast-ingest-b; do
  printf '%s:%s\n' "$user" "$secret" >>"$scratch/mosquitto.passwd"
done
# Hashes what stands in the clear, in place; those of gateways are hashed already.
mosquitto_passwd -U "$scratch/mosquitto.passwd"
cat "$secrets/mqtt-gateways" >>"$scratch/mosquitto.passwd"
sed -e "s|^listener .*|listener ${MQTT_PORT:-1883} 127.0.0.1|" \
  -e "s|^password_file .*|password_file $scratch/mosquitto.passwd|" \
  -e "s|^acl_file .*|acl_file $config/mosquitto.acl|" \
  -e "s|^persistence_location .*|persistence_location $data/|" "$config/mosquitto.conf" >"$scratch/mosquitto.conf"
# Started by root, it becomes a user of its own, who reads both.
if [ "$(id -u)" = 0 ]; then chown mosquitto "$scratch/mosquitto.passwd" "$scratch/mosquitto.conf"; fi
exec mosquitto -c "$scratch/mosquitto.conf"
