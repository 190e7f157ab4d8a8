#!/usr/bin/env bash
# Builds the images of docker-compose.yml and docker-compose.cluster.yml where no registry can be reached: from Debian's packages and from the
# libraries that the product was built with. Needs root, docker, debootstrap, unzip and xz; build the jar before:
#   mvn -B -Dquick package && deploy/local-images.sh
# Prints the variables to start with. The images are for trying; a fleet runs on the official ones.
set -euo pipefail
cd "$(dirname "$0")/.."

lib=app/target/lib
[ -d "$lib" ] || { echo "no $lib: build the jar first (mvn -B -Dquick package)" >&2; exit 1; }
for program in docker debootstrap unzip xz; do
  command -v "$program" >/dev/null || { echo "$program is not installed" >&2; exit 1; }
done

# shellcheck disable=SC1091
suite="$(. /etc/os-release && echo "$VERSION_CODENAME")"
mirror="${DEBIAN_MIRROR:-$(sed -n 's/^URIs: *//p; s/^deb \(http[^ ]*\).*/\1/p' \
  /etc/apt/sources.list.d/debian.sources /etc/apt/sources.list 2>/dev/null | head -n 1 || true)}"
[ -n "$mirror" ] || { echo "no mirror in Debian's sources: set DEBIAN_MIRROR" >&2; exit 1; }

scratch="$(mktemp -d)"
trap 'rm -rf "$scratch"' EXIT

# A root file system with these packages, as an image.
import() { # name, packages, changes for docker import…
  local name="$1" packages="$2"
  shift 2
  if docker image inspect "$name" >/dev/null 2>&1; then
    echo "== $name is there already (docker rmi $name to have it made anew)"
    return
  fi
  echo "== $name from $suite at $mirror"
  debootstrap --variant=minbase --include="$packages" "$suite" "$scratch/image" "$mirror" >"$scratch/debootstrap.log" \
    || { tail -n 20 "$scratch/debootstrap.log" >&2; exit 1; }
  rm -rf "$scratch/image/var/cache/apt" "$scratch/image/var/lib/apt/lists"
  mkdir -p "$scratch/image/mosquitto/data" "$scratch/image/mosquitto/config"
  if chroot "$scratch/image" id mosquitto >/dev/null 2>&1; then
    chroot "$scratch/image" chown mosquitto /mosquitto/data
  fi
  tar -C "$scratch/image" -c . | docker import "$@" - "$name"
  rm -rf "$scratch/image"
}

import local/mosquitto:2 mosquitto,ca-certificates \
  --change 'CMD ["mosquitto", "-c", "/mosquitto/config/mosquitto.conf"]'
import local/jre:17 openjdk-17-jre-headless,ca-certificates
import local/haproxy:2 haproxy \
  --change 'CMD ["haproxy", "-W", "-db", "-f", "/usr/local/etc/haproxy/haproxy.cfg"]'
# Programs that talk to a server; the server itself is the one that the product was built with.
import local/psql:1 postgresql-client,ca-certificates

echo "== local/kafka from $lib"
mkdir "$scratch/kafka"
cp -r "$lib" "$scratch/kafka/lib"
cat >"$scratch/kafka/run" <<'RUN'
#!/bin/sh
# As the official image does it: KAFKA_A_B becomes a.b of server.properties; an empty directory is formatted.
set -e
mkdir -p /tmp/default /tmp/mounted /tmp/config
said="$(java -cp '/opt/kafka/config:/opt/kafka/lib/*' kafka.docker.KafkaDockerWrapper setup \
  --default-configs-dir /tmp/default --mounted-configs-dir /tmp/mounted --final-configs-dir /tmp/config 2>&1)" \
  || echo "$said" | grep -i "already formatted" || { echo "$said" >&2; exit 1; }
exec java -Xmx512m -cp '/opt/kafka/config:/opt/kafka/lib/*' kafka.Kafka /tmp/config/server.properties
RUN
mkdir "$scratch/kafka/config"
cat >"$scratch/kafka/config/logback.xml" <<'XML'
<configuration>
  <appender name="out" class="ch.qos.logback.core.ConsoleAppender">
    <encoder><pattern>%d %-5level %logger{20} %msg%n</pattern></encoder>
  </appender>
  <root level="WARN"><appender-ref ref="out"/></root>
</configuration>
XML
cat >"$scratch/kafka/Dockerfile" <<'DOCKERFILE'
FROM local/jre:17
RUN useradd --system --uid 1000 appuser && mkdir -p /var/lib/kafka/data && chown appuser /var/lib/kafka/data
COPY lib /opt/kafka/lib
COPY config /opt/kafka/config
COPY run /opt/kafka/run
ENV CLUSTER_ID=5L6g3nShT-eMCtK--X86sw
USER appuser
CMD ["/opt/kafka/run"]
DOCKERFILE
chmod 755 "$scratch/kafka/run"
docker build -q -t local/kafka:4 "$scratch/kafka"

echo "== local/postgres from $lib"
mkdir -p "$scratch/postgres/postgres"
unzip -p "$lib"/embedded-postgres-binaries-linux-*.jar 'postgres-linux-*.txz' | xz -d | tar -x -C "$scratch/postgres/postgres"
cat >"$scratch/postgres/run" <<'RUN'
#!/bin/sh
# As the official image does it: an empty directory becomes a server's data, of POSTGRES_USER, and scripts in
# /docker-entrypoint-initdb.d run once against a server that nobody else reaches.
set -e
data=/var/lib/postgresql/18/docker
if [ ! -s "$data/PG_VERSION" ]; then
  new="$data.new"
  rm -rf "$new"
  # shellcheck disable=SC2086
  initdb -D "$new" --username="$POSTGRES_USER" --pwfile="$POSTGRES_PASSWORD_FILE" --encoding=UTF8 $POSTGRES_INITDB_ARGS
  pg_ctl -D "$new" -w -o "-c listen_addresses='' -c port=5432 -k /tmp" start
  PGPASSWORD="$(cat "$POSTGRES_PASSWORD_FILE")"
  export PGPASSWORD PGHOST=/tmp
  for script in /docker-entrypoint-initdb.d/*.sh; do
    [ ! -f "$script" ] || sh "$script"
  done
  unset PGPASSWORD PGHOST
  pg_ctl -D "$new" -w -m fast stop
  mv "$new" "$data"
fi
exec postgres -D "$data" "$@"
RUN
cat >"$scratch/postgres/Dockerfile" <<'DOCKERFILE'
FROM local/psql:1
RUN useradd --system --uid 999 postgres && mkdir -p /var/lib/postgresql && chown postgres /var/lib/postgresql
COPY postgres /opt/postgres
COPY run /opt/run
ENV PATH=/opt/postgres/bin:/usr/bin:/bin
STOPSIGNAL SIGINT
USER postgres
ENTRYPOINT ["/opt/run"]
DOCKERFILE
chmod 755 "$scratch/postgres/run"
docker build -q -t local/postgres:18 "$scratch/postgres"

cat <<'DONE'
== done. Start with:
export JRE_IMAGE=local/jre:17 KAFKA_IMAGE=local/kafka:4 POSTGRES_IMAGE=local/postgres:18 MOSQUITTO_IMAGE=local/mosquitto:2 HAPROXY_IMAGE=local/haproxy:2
docker compose up --build        # or, where Compose is the older program: docker-compose up --build
DONE
