package dev.rimecast.benchmarks.year;

import dev.rimecast.alerts.AlertsInSteps.News;
import dev.rimecast.alerts.store.SiteLogStore.Entry;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import dev.rimecast.telemetry.log.SiteRecord.Pack;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Queue;
import java.util.Set;
import java.util.UUID;
import java.util.function.Consumer;

/**
 * What a server has yet to be told of a site. While nothing is open there, cycles and readings are handed over once a day only: a
 * server decides nothing by them then, and one site's are nothing to another. Of readings only what decides something there: when a bin becomes full, when a
 * machine begins to rest or to clean, and when that is over. Temperatures are for its pages, which nobody looks at here.
 */
final class SiteNews implements Told {
    private final String site;
    private final Queue<At<Happened>> events = new ArrayDeque<>();
    private final Queue<At<Pack>> packs = new ArrayDeque<>();
    private final Queue<At<Cycle>> cycles = new ArrayDeque<>();
    private final Queue<At<Finding>> findings = new ArrayDeque<>();
    private final Map<String, Double> last = new HashMap<>();
    private final Set<UUID> open = new HashSet<>();

    private record At<T>(Instant at, T what) {}

    SiteNews(String site) {
        this.site = site;
    }

    @Override
    public void happened(Happened event) {
        events.add(new At<>(event.at(), event));
    }

    @Override
    public void read(Pack pack) {
        List<Reading> changes = new ArrayList<>();
        for (Reading reading : pack.readings()) {
            Optional<Double> state = state(reading);
            if (state.isPresent()
                    && !state.get().equals(last.put(reading.machine() + ' ' + reading.channel(), state.get()))) {
                changes.add(reading);
            }
        }
        if (!changes.isEmpty()) {
            packs.add(new At<>(
                    pack.receivedAt(), new Pack(pack.gateway(), Optional.empty(), pack.receivedAt(), changes, 0)));
        }
    }

    /** What a server makes of it; nothing where that is nothing. */
    private static Optional<Double> state(Reading reading) {
        if (reading.channel() == Channel.BIN_FULL) {
            return Optional.of(reading.value() != 0 ? 1.0 : 0.0);
        }
        if (reading.channel() != Channel.PHASE) {
            return Optional.empty();
        }
        boolean matters = reading.phase() == Phase.IDLE || reading.phase() == Phase.CLEAN;
        return Optional.of(matters ? reading.value() : -1.0);
    }

    @Override
    public void made(Instant at, Cycle cycle) {
        cycles.add(new At<>(at, cycle));
    }

    @Override
    public void found(Instant at, Finding finding) {
        findings.add(new At<>(at, finding));
    }

    /** Whether something was found after one time and until another that nobody has taken yet. */
    boolean isFoundBetween(Instant after, Instant until) {
        return findings.stream()
                .anyMatch(found -> found.at().isAfter(after) && !found.at().isAfter(until));
    }

    /** What people did and said until then. */
    void takeEvents(Instant until, Consumer<Happened> to) {
        take(events, until, event -> to.accept(event.what()));
    }

    /** Everything else that has come to all sites until then. */
    static News take(List<SiteNews> sites, Instant until) {
        List<Entry> log = new ArrayList<>();
        List<Cycle> made = new ArrayList<>();
        List<At<Finding>> found = new ArrayList<>();
        boolean isMidnight = until.truncatedTo(ChronoUnit.DAYS).equals(until);
        for (SiteNews news : sites) {
            int before = found.size();
            take(news.findings, until, found::add);
            boolean decides = found.size() > before || !news.open.isEmpty();
            found.subList(before, found.size()).forEach(finding -> news.note(finding.what()));
            if (decides || isMidnight) {
                take(news.packs, until, pack -> log.add(new Entry(news.site, pack.what())));
                take(news.cycles, until, cycle -> made.add(cycle.what()));
            }
        }
        found.sort(Comparator.comparing(At::at));
        return new News(log, made, found.stream().map(At::what).toList());
    }

    private void note(Finding finding) {
        if (finding.step() == Finding.Step.CLEARED) {
            open.remove(finding.id());
        } else if (!finding.condition().isCare()) {
            open.add(finding.id());
        }
    }

    private static <T> void take(Queue<At<T>> from, Instant until, Consumer<At<T>> to) {
        for (At<T> next = from.peek(); next != null && !next.at().isAfter(until); next = from.peek()) {
            to.accept(from.remove());
        }
    }

    String site() {
        return site;
    }
}
