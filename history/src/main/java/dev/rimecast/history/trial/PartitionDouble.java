package dev.rimecast.history.trial;

import dev.rimecast.history.compare.Difference;
import dev.rimecast.history.compare.Raised;
import dev.rimecast.history.trial.SiteDouble.Side;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Iterator;
import java.util.List;
import java.util.TreeMap;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** One partition of the sites' log, decided twice; what live is the work of one task of the stream. */
final class PartitionDouble {
    /** Alerts that are kept for each side; more are counted. */
    static final int MOST_KEPT = 20_000;

    final String log;
    final int partition;
    /** Sorted, as live, so that a tick goes to the sites in the same order. */
    final TreeMap<String, SiteDouble> sites = new TreeMap<>();

    long next;
    boolean isWhole = true;
    boolean hasBegun;
    long currentRaised;
    long candidateRaised;
    long same;
    long leftOut;

    @Nullable
    Instant reached;

    PartitionDouble(String log, int partition) {
        this.log = log;
        this.partition = partition;
    }

    /** @param arrivedMillis when the log took it */
    void take(TrialPolicy trial, long offset, @Nullable String site, byte[] bytes, long arrivedMillis) {
        next = offset + 1;
        SiteRecord record;
        try {
            record = SiteLogCodec.decode(bytes);
        } catch (IllegalArgumentException unreadable) {
            // Live it was a dead letter.
            return;
        }
        if (!hasBegun && arrivedMillis > trial.since().toEpochMilli()) {
            begin(trial);
        }
        if (record instanceof SiteRecord.Tick tick) {
            reached = tick.at();
        }
        if (site != null) {
            sites.computeIfAbsent(site, id -> fresh(id, trial)).accept(record);
        } else if (record instanceof SiteRecord.Tick) {
            sites.values().forEach(each -> each.accept(record));
        }
    }

    private SiteDouble fresh(String id, TrialPolicy trial) {
        SiteDouble site = new SiteDouble(id);
        if (hasBegun) {
            site.begin(trial.policy());
        }
        return site;
    }

    private void begin(TrialPolicy trial) {
        hasBegun = true;
        sites.values().forEach(site -> site.begin(trial.policy()));
    }

    /** Counts what was raised since the last time, and lets go of what is over and the same in both. */
    void settle(TrialPolicy trial) {
        sites.values().forEach(site -> {
            Side candidate = site.candidate;
            if (candidate == null) {
                return;
            }
            List<UUID> over = new ArrayList<>();
            site.current.raised.forEach((id, raised) -> {
                Raised other = candidate.raised.get(id);
                if (other != null
                        && raised.clearedAt().isPresent()
                        && raised.clearedAt().equals(other.clearedAt())) {
                    over.add(id);
                }
            });
            over.forEach(id -> {
                count(site.current.raised.remove(id), trial, true);
                count(candidate.raised.remove(id), trial, false);
                same++;
            });
            leftOut += shorten(site.current, trial, true) + shorten(candidate, trial, false);
        });
    }

    private void count(@Nullable Raised raised, TrialPolicy trial, boolean isCurrent) {
        if (raised != null && isSince(raised, trial)) {
            currentRaised += isCurrent ? 1 : 0;
            candidateRaised += isCurrent ? 0 : 1;
        }
    }

    private long shorten(Side side, TrialPolicy trial, boolean isCurrent) {
        long dropped = 0;
        Iterator<Raised> oldest = side.raised.values().iterator();
        for (long over = side.raised.size() - (long) MOST_KEPT / Math.max(1, sites.size()) - 100;
                over > 0 && oldest.hasNext(); ) {
            Raised raised = oldest.next();
            if (raised.clearedAt().isPresent()) {
                count(raised, trial, isCurrent);
                oldest.remove();
                dropped++;
                over--;
            }
        }
        return dropped;
    }

    private static boolean isSince(Raised raised, TrialPolicy trial) {
        return raised.raisedAt().isAfter(trial.since());
    }

    /** What has come of it so far; {@link #settle} comes first. */
    TrialResult result(TrialPolicy trial) {
        List<Raised> current = new ArrayList<>();
        List<Raised> candidate = new ArrayList<>();
        sites.values().forEach(site -> {
            if (site.candidate != null) {
                current.addAll(site.current.raised.values());
                candidate.addAll(site.candidate.raised.values());
            }
        });
        List<Difference> differences = Difference.between(current, candidate);
        long differing = differences.stream()
                .filter(difference -> difference.current().isPresent())
                .count();
        return new TrialResult(
                hasBegun ? java.util.Optional.ofNullable(reached) : java.util.Optional.empty(),
                currentRaised
                        + current.stream()
                                .filter(raised -> isSince(raised, trial))
                                .count(),
                candidateRaised
                        + candidate.stream()
                                .filter(raised -> isSince(raised, trial))
                                .count(),
                same + current.size() - differing,
                differences,
                isWhole,
                leftOut);
    }
}
