package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.view.GatewayView;
import dev.rimecast.dashboard.system.SystemWatch;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * The product for whoever runs it.
 *
 * @param counters of the stages of this process, since its start
 * @param gateways the one that was silent longest first
 */
public record SystemJson(
        Instant now,
        List<VersionJson> versions,
        List<DiskJson> disks,
        List<CounterJson> counters,
        List<GatewayJson> gateways) {

    public record VersionJson(String part, String version) {
        public static VersionJson of(SystemWatch.Version version) {
            return new VersionJson(version.part(), version.version());
        }
    }

    public record DiskJson(String path, long freeBytes, long totalBytes) {
        public static DiskJson of(SystemWatch.Disk disk) {
            return new DiskJson(disk.path(), disk.freeBytes(), disk.totalBytes());
        }
    }

    /** A counter or a gauge by its name in {@code /metrics}, dots for underscores. */
    public record CounterJson(String name, Map<String, String> labels, double value) {}

    public record GatewayJson(
            String gateway,
            String site,
            String siteName,
            Optional<Boolean> online,
            Optional<Instant> presenceAt,
            Optional<Instant> lastPackAt,
            List<String> machines) {
        public static GatewayJson of(GatewayView view) {
            return new GatewayJson(
                    view.gateway(),
                    view.site(),
                    view.siteName(),
                    view.isOnline(),
                    view.presenceAt(),
                    view.lastPackAt(),
                    view.machines());
        }
    }

    /**
     * A message of which something was rejected.
     *
     * @param payload its beginning: text, or bytes in hexadecimal where it is no text
     */
    public record RejectedJson(
            String id,
            Instant at,
            String sender,
            String topic,
            List<ReasonJson> reasons,
            String payload,
            boolean isText,
            int payloadBytes,
            List<ReplayedJson> replays) {
        public static RejectedJson of(SystemWatch.Rejected rejected) {
            PayloadJson payload = PayloadJson.of(rejected.payload());
            return new RejectedJson(
                    rejected.id(),
                    rejected.at(),
                    rejected.sender(),
                    rejected.topic(),
                    rejected.reasons().stream().map(ReasonJson::of).toList(),
                    payload.shown(),
                    payload.isText(),
                    rejected.payload().length,
                    rejected.replays().stream().map(ReplayedJson::of).toList());
        }
    }

    /** What came of a rejected message when somebody had it taken again. */
    public record ReplayedJson(Instant at, String by, int stored, int unclaimed, List<ReasonJson> rejected) {
        public static ReplayedJson of(SystemWatch.Replayed replayed) {
            return new ReplayedJson(
                    replayed.at(),
                    replayed.by(),
                    replayed.stored(),
                    replayed.unclaimed(),
                    replayed.rejected().stream().map(ReasonJson::of).toList());
        }
    }

    /**
     * Why.
     *
     * @param index which record of the message, from 0; absent for the message as a whole
     */
    public record ReasonJson(Optional<Integer> index, String reason, String detail) {
        static ReasonJson of(String line) {
            String[] parts = line.split(" ", 3);
            Optional<Integer> index =
                    parts[0].matches("\\d{1,9}") ? Optional.of(Integer.valueOf(parts[0])) : Optional.empty();
            return new ReasonJson(index, parts.length > 1 ? parts[1] : "", parts.length > 2 ? parts[2] : "");
        }
    }

    /**
     * A machine in no register.
     *
     * @param registeredBehind the gateway behind which the register has it, where it sends by another one, too: what waits is not taken
     * @param site of the other machines behind its gateway, where there are some
     * @param line what claims it, once it stands in {@code machines.csv}; the site is open where no other machine tells it
     */
    public record UnclaimedJson(
            String machine,
            String gateway,
            Optional<String> site,
            long readings,
            Instant firstAt,
            Instant lastAt,
            String line,
            Optional<String> registeredBehind) {
        public static UnclaimedJson of(SystemWatch.Unclaimed waiting, List<GatewayView> gateways) {
            Optional<String> site = gateways.stream()
                    .filter(gateway -> gateway.gateway().equals(waiting.gateway()))
                    .map(GatewayView::site)
                    .findFirst();
            return new UnclaimedJson(
                    waiting.machine(),
                    waiting.gateway(),
                    site,
                    waiting.readings(),
                    waiting.firstAt(),
                    waiting.lastAt(),
                    waiting.machine() + ',' + site.orElse("SITE") + ',' + waiting.gateway(),
                    gateways.stream()
                            .filter(gateway -> gateway.machines().contains(waiting.machine()))
                            .map(GatewayView::gateway)
                            .findFirst());
        }
    }
}
