#!/usr/bin/env bash
# Does tuning on one fleet make another worse? Simulates fleets of which none has seen another, tries the same numbers on each, and
# prints what each combination would have cost there, and what is proposed. The first fleet is the one that is tuned on.
# Usage: benchmarks/held-apart.sh [DIRECTORY [SITES [DAYS [FLEETS]]]], FLEETS such as "24:bare 11:mixed" (seed and channels)
set -euo pipefail
here=$(cd "$(dirname "$0")/.." && pwd)
root=${1:-${TMPDIR:-/tmp}/rimecast-held-apart}
sites=${2:-8}
days=${3:-90}
fleets=${4:-24:bare 11:mixed 21:mixed 22:mixed}
rimecast=$here/rimecast

"$rimecast" --version
for each in $fleets; do
  seed=${each%:*}
  channels=${each#*:}
  fleet=$root/$sites-$days-$seed
  if [ ! -f "$fleet/truth.csv" ]; then
    "$rimecast" simulate --trial --seed "$seed" --sites "$sites" --days "$days" --channels "$channels" --out "$fleet" >/dev/null
  fi
  "$rimecast" tune "$fleet/telemetry.csv.gz" --register "$fleet/machines.csv" --events "$fleet/events.csv" \
    --truth "$fleet/truth.csv" --number making.habit_factor=1.2 --number change.beyond_unsure=1.5 \
    --out "$fleet/tuned" >/dev/null
  echo
  echo "Fleet $seed, $channels: $sites sites, $days days"
  sed -n '/cost  *known/,/^What is unsure/p' "$fleet/tuned/report.txt" | grep -vE '^$|^> cheapest|^Lead:|^What is unsure'
done
