#!/usr/bin/env bash
# Times replay of a gzip CSV as a whole command, start of the JVM included: rows a second of the wall clock, and of the
# processor time of all its threads. Simulates the recording first, unless it is there.
# Usage: benchmarks/measure-replay.sh [DIRECTORY [SAMPLING_SECONDS [RUNS]]]
set -euo pipefail
here=$(cd "$(dirname "$0")/.." && pwd)
sampling=${2:-10}
runs=${3:-3}
fleet=${1:-${TMPDIR:-/tmp}/rimecast-replay}/$sampling
rimecast=$here/rimecast
TIMEFORMAT='%R %U %S'

"$rimecast" --version
if [ ! -f "$fleet/truth.csv" ]; then
  echo "simulating 12 sites for 30 days, a reading each $sampling s"
  "$rimecast" simulate --trial --seed 7 --sites 12 --days 30 --channels full --sampling "$sampling" --out "$fleet"
fi
rows=$(($(zcat "$fleet/telemetry.csv.gz" | wc -l) - 1))
for _ in $(seq "$runs"); do
  taken=$({ time "$rimecast" replay "$fleet/telemetry.csv.gz" --register "$fleet/machines.csv" --sites "$fleet/sites.csv" \
    --events "$fleet/events.csv" --out "$fleet/results" >/dev/null; } 2>&1 | tail -n 1)
  read -r wall user system <<<"$taken"
  awk -v rows="$rows" -v wall="$wall" -v user="$user" -v system_="$system" -v load="$(cut -d' ' -f1 /proc/loadavg)" 'BEGIN {
    printf "%d rows in %.1f s: %.0f rows/s; %.1f s of processor time: %.0f rows/s and core; load %s\n",
      rows, wall, rows / wall, user + system_, rows / (user + system_), load }'
done
