package dev.rimecast.analytics.monitor;

/**
 * What became of the readings of a site's log, since its beginning.
 * {@code stored = used + repeated + late + conflicting + unregistered}.
 *
 * @param used went into cycles and limits
 * @param repeated the same value of the same machine, channel and time again, or a numbered pack again
 * @param late more than the reorder window older than the machine's newest reading: history only
 * @param conflicting another value for a machine, channel and time that has one; the first stands
 * @param unregistered of a machine whose row had ended by then; ingest stores none, but a row can end while a pack is
 *     on its way
 */
public record MonitorCounts(long used, long repeated, long late, long conflicting, long unregistered) {
    public long stored() {
        return used + repeated + late + conflicting + unregistered;
    }

    public MonitorCounts plus(MonitorCounts other) {
        return new MonitorCounts(
                used + other.used,
                repeated + other.repeated,
                late + other.late,
                conflicting + other.conflicting,
                unregistered + other.unregistered);
    }
}
