#!/usr/bin/env bash
# Rimecast on a cluster, on this machine: three Kafkas, a broker, PostgreSQL, and two of each role behind a proxy.
#   deploy/cluster.sh up        brings it up, waits until everything answers, and says where the pages are
#   deploy/cluster.sh status    what answers
#   deploy/cluster.sh roll      restarts every instance of every role, one after the other, each when the one before answers
#   deploy/cluster.sh link      the link that makes the first administrator, where there is none yet
#   deploy/cluster.sh more      starts a third instance of analytics
#   deploy/cluster.sh restart|stop|start|kill SERVICE…   one container after the other; start and restart wait until it answers
#   deploy/cluster.sh prove     restarts everything under load, goes from one instance of analytics to three, and does the sums; for a
#                               cluster that was brought up anew with FLEET=./deploy/cluster/proving
#   deploy/cluster.sh down      stops everything; with --volumes it is forgotten, too
# Build the jar first (mvn -B -Dquick package). LOCAL_IMAGES=true takes the images of deploy/local-images.sh.
# PAGES_PORT (8080), MQTT_PORT (1883) and the other variables of docker-compose.cluster.yml choose other ports; FLEET is the
# directory with machines.csv (./samples).
set -euo pipefail
cd "$(dirname "$0")/.."

export PAGES_PORT="${PAGES_PORT:-8080}" PAGES_A_PORT="${PAGES_A_PORT:-8081}" PAGES_B_PORT="${PAGES_B_PORT:-8082}"
export MQTT_PORT="${MQTT_PORT:-1883}"
wait_seconds="${WAIT_SECONDS:-240}"
project="${PROJECT:-rimecast-cluster}"

if [ "${LOCAL_IMAGES:-false}" = true ]; then
  export JRE_IMAGE=local/jre:17 KAFKA_IMAGE=local/kafka:4 POSTGRES_IMAGE=local/postgres:18
  export MOSQUITTO_IMAGE=local/mosquitto:2 HAPROXY_IMAGE=local/haproxy:2
fi

compose() {
  if [ -z "${COMPOSE:-}" ]; then
    if docker compose version >/dev/null 2>&1; then COMPOSE="docker compose"; else COMPOSE="docker-compose"; fi
  fi
  # shellcheck disable=SC2086
  $COMPOSE -p "$project" -f docker-compose.cluster.yml "$@"
}

container() { compose ps -q "$1" 2>/dev/null; }

# Whether an instance answers: what is ours when it takes work, PostgreSQL and the broker when their port is open.
answers() { # service
  case "$1" in
    ingest-a) asked "${INGEST_A_PORT:-8091}/readyz" ;;
    ingest-b) asked "${INGEST_B_PORT:-8191}/readyz" ;;
    analytics-a) asked "${ANALYTICS_A_PORT:-8092}/readyz" ;;
    analytics-b) asked "${ANALYTICS_B_PORT:-8192}/readyz" ;;
    analytics-c) asked "${ANALYTICS_C_PORT:-8292}/readyz" ;;
    pages-a) asked "$PAGES_A_PORT/readyz" ;;
    pages-b) asked "$PAGES_B_PORT/readyz" ;;
    kafka-*) kafka_is_in_sync ;;
    proxy) asked "$PAGES_PORT/healthz" ;;
    postgres) is_open "${POSTGRES_PORT:-5432}" ;;
    mosquitto) is_open "$MQTT_PORT" ;;
    *) echo "there is no $1" >&2; exit 2 ;;
  esac
}

asked() { # port and path
  curl -fsS -m 5 -o /dev/null "http://localhost:$1" 2>/dev/null
}

is_open() { # port
  (exec 3<>"/dev/tcp/127.0.0.1/$1") 2>/dev/null
}

# Whether every partition has all its copies again: the tools of Kafka's image say so, or kcat where that is installed.
kafka_is_in_sync() {
  local port bad
  for port in "${KAFKA_1_PORT:-9092}" "${KAFKA_2_PORT:-9192}" "${KAFKA_3_PORT:-9292}"; do
    is_open "$port" || return 1
  done
  if command -v kcat >/dev/null; then
    kcat -b "127.0.0.1:${KAFKA_1_PORT:-9092}" -X security.protocol=ssl -X ssl.ca.location=deploy/secrets/kafka-ca.crt \
      -X ssl.certificate.location=deploy/secrets/rimecast.crt -X ssl.key.location=deploy/secrets/rimecast.key -L 2>/dev/null >"${TMPDIR:-/tmp}/cluster.$$"
    bad="$(awk -F'replicas: |, isrs: ' '/partition/ && split($2, r, ",") != split($3, i, ",") { bad++ } END { print bad + 0 }' \
      "${TMPDIR:-/tmp}/cluster.$$")"
    rm -f "${TMPDIR:-/tmp}/cluster.$$"
  else
    # shellcheck disable=SC2016
    bad="$(docker exec "$(container kafka-1)" sh -c 'printf "%s\n" security.protocol=SSL ssl.keystore.type=PEM \
      ssl.keystore.location=/run/secrets/kafka.pem ssl.truststore.type=PEM ssl.truststore.location=/run/secrets/kafka-ca >/tmp/client.properties
      /opt/kafka/bin/kafka-topics.sh --command-config /tmp/client.properties --bootstrap-server "$1" --describe --under-replicated-partitions' \
      sh "127.0.0.1:${KAFKA_1_PORT:-9092}" 2>/dev/null | grep -c Partition)"
  fi
  [ "$bad" = 0 ]
}

await() { # service
  local end=$((SECONDS + wait_seconds))
  until answers "$1"; do
    if [ $SECONDS -ge $end ]; then
      echo "$1 does not answer after $wait_seconds s; its last words:" >&2
      docker logs --tail 30 "$(container "$1")" >&2 || true
      exit 1
    fi
    sleep 0.5
  done
}

# The newest that an instance of the pages has printed: each start ends the one before, of the other instance, too.
# What an instance has said since its last start: links of earlier ones are dead.
started() {
  docker logs --timestamps --since "$(docker inspect --format '{{.State.StartedAt}}' "$(container "$1")")" "$(container "$1")" 2>&1
}

link() {
  local service found
  found="$(for service in pages-a pages-b; do started "$service"; done | grep '/set-up#' | sort | tail -n 1)"
  [ -n "$found" ] || return 1
  echo "http://localhost:$PAGES_PORT/set-up#${found##*/set-up#}"
}

roles="ingest-a ingest-b analytics-a analytics-b pages-a pages-b"

case "${1:-}" in
  up)
    deploy/secrets.sh
    compose up -d --build
    for service in $roles proxy; do
      await "$service"
      echo "$service answers after $SECONDS s"
    done
    echo "The pages are at http://localhost:$PAGES_PORT, gateways publish to port $MQTT_PORT."
    if link >/dev/null; then
      echo "Where there is no administrator yet, this link makes the first one, once, within an hour of its start:"
      echo "  $(link)"
    fi
    ;;
  status)
    failed=0
    for service in $roles proxy; do
      if answers "$service"; then echo "$service answers"; else echo "$service does not answer"; failed=1; fi
    done
    exit $failed
    ;;
  roll)
    for service in $roles; do
      echo "$service is restarted"
      compose restart -t 30 "$service" >/dev/null 2>&1
      await "$service"
    done
    ;;
  link)
    link || { echo "no instance of the pages has printed one: there is an administrator" >&2; exit 1; }
    ;;
  more)
    compose --profile more up -d --no-deps analytics-c
    ;;
  restart | stop | start | kill)
    what="$1"
    shift
    for service in "$@"; do
      case "$what" in
        restart | stop) compose "$what" -t 30 "$service" ;;
        kill) compose kill -s KILL "$service" ;;
        start) compose start "$service" ;;
      esac >/dev/null 2>&1
      case "$what" in restart | start) await "$service" ;; esac
    done
    ;;
  prove)
    shift
    mvn -B -q -pl app -am verify -Djacoco.skip=true -Dspotless.check.skip=true -Dcyclonedx.skip=true -Dtest=NoneTest \
      -Dit.test=RollingRestartIT -Dsurefire.failIfNoSpecifiedTests=false -Dfailsafe.failIfNoSpecifiedTests=false \
      -Dcluster.script="$PWD/deploy/cluster.sh" \
      -Dcluster.kafka="127.0.0.1:${KAFKA_1_PORT:-9092},127.0.0.1:${KAFKA_2_PORT:-9192},127.0.0.1:${KAFKA_3_PORT:-9292}" \
      -Dcluster.pages="$PAGES_PORT" \
      -Dcluster.mqtt="tcp://127.0.0.1:$MQTT_PORT" \
      -Dcluster.database="jdbc:postgresql://127.0.0.1:${POSTGRES_PORT:-5432}/rimecast" "$@"
    ;;
  down)
    shift
    compose --profile more down --remove-orphans "$@"
    ;;
  *)
    sed -n '2,14p' "$0" | sed 's/^# \{0,1\}//'
    exit 2
    ;;
esac
