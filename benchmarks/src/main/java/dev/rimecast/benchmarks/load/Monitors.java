package dev.rimecast.benchmarks.load;

import dev.rimecast.analytics.monitor.Nowhere;
import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.log.SiteLogCodec;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * The monitors of every site on one thread, without Kafka. The memory of one monitor that is watched alone stays in the processor's
 * cache, that of thousands does not: so this is the share of the distance between analytics and its parts that no Streams makes.
 */
final class Monitors {
    private final List<byte[]> packs = new ArrayList<>();
    private final List<int[]> digits = new ArrayList<>();
    private final List<SiteMonitor> monitors = new ArrayList<>();
    private final StateWriter scratch = new StateWriter();
    private final boolean saves;

    /** @param saves whether the states are written behind each pack, as analytics does it */
    Monitors(LearnedSite site, int clones, boolean saves) {
        this.saves = saves;
        for (int place = 0; place < site.packs().size(); place++) {
            byte[] bytes = SitesLog.bytes(site.packs().get(place), place + 1L);
            packs.add(bytes);
            digits.add(Clone.places(bytes));
        }
        for (int clone = 0; clone < clones; clone++) {
            Map<String, byte[]> states = new HashMap<>();
            for (Map.Entry<String, byte[]> part : site.states().entrySet()) {
                states.put(part.getKey().replace(Clone.FIRST, Clone.name(clone)), Clone.of(part.getValue(), clone));
            }
            monitors.add(SiteMonitor.restore(Clone.name(clone), states));
        }
    }

    /**
     * Each pack of the site at every clone, one pack after the other, the first half for warming up.
     *
     * @param places packs of the site, at least 2
     */
    Measure run(int places) {
        int half = places / 2;
        take(0, half);
        return Measure.ofThread(() -> take(half, places), (long) (places - half) * monitors.size());
    }

    /** Bytes that were written, or readings that were used. */
    private long take(int from, int to) {
        long[] written = new long[1];
        for (int place = from; place < to; place++) {
            for (int clone = 0; clone < monitors.size(); clone++) {
                SiteMonitor monitor = monitors.get(clone);
                byte[] bytes = packs.get(place).clone();
                Clone.write(bytes, digits.get(place), clone);
                monitor.accept(SiteLogCodec.decode(bytes), Nowhere.OUTPUT);
                if (saves) {
                    monitor.saveTouched(scratch, (key, state) -> written[0] += state == null ? 0 : state.length);
                }
            }
        }
        long used =
                monitors.stream().mapToLong(monitor -> monitor.counts().used()).sum();
        Part.require(used > 0, "the monitors used no reading");
        return saves ? written[0] : used;
    }
}
