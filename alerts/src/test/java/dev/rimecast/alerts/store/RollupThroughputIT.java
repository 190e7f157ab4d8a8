package dev.rimecast.alerts.store;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.OwnDatabase;
import dev.rimecast.alerts.store.SiteLogStore.Entry;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord.Pack;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.lang.management.ManagementFactory;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;

/**
 * How fast a backlog passes: 24 machines behind 6 gateways, 8 channels every 60 s, half an hour in a pack, decoding
 * included, on a real database. {@code -Drimecast.days=45} is the demo's whole past.
 */
class RollupThroughputIT {
    private static final int DAYS = Integer.getInteger("rimecast.days", 3);
    private static final int MINUTES_PER_PACK = 30;
    private static final int RECORDS_PER_POLL = 500;
    /** Far below what was measured, since builds share their cores. The goal is 100,000 on a core of its own. */
    private static final double AT_LEAST_PER_SECOND = 20_000;

    @Test
    void backlog_ofTheWholeFleet_passesFastEnough() {
        try (OwnDatabase own = new OwnDatabase()) {
            Database database = own.database();
            SiteLogStore store = new SiteLogStore();
            long readings = 0;
            long nanos = 0;
            long cpuNanos = 0;
            List<Encoded> poll = new ArrayList<>();
            Instant start = Instant.parse("2026-05-01T00:00:00Z");
            for (int pack = 0; pack < DAYS * 24 * 60 / MINUTES_PER_PACK; pack++) {
                for (int gateway = 0; gateway < 6; gateway++) {
                    poll.add(encoded(gateway, start.plus(Duration.ofMinutes((long) pack * MINUTES_PER_PACK))));
                }
                if (poll.size() >= RECORDS_PER_POLL) {
                    long cpu = cpuNanos();
                    long before = System.nanoTime();
                    readings += take(database, store, poll);
                    nanos += System.nanoTime() - before;
                    cpuNanos += cpuNanos() - cpu;
                    poll.clear();
                }
            }
            double perSecond = readings * 1e9 / nanos;
            System.out.printf(
                    "%,d readings in %.1f s: %,.0f readings/s; our own share %.1f s of processor time%n",
                    readings, nanos / 1e9, perSecond, cpuNanos / 1e9);
            assertThat(perSecond).isGreaterThan(AT_LEAST_PER_SECOND);
        }
    }

    /** Processor time of a pack, ours and the server's, where a fleet tells what it has each ten seconds. */
    @Test
    @EnabledIfSystemProperty(
            named = "rimecast.fleet",
            matches = ".+",
            disabledReason = "tells a figure, proves nothing")
    void fleet_thatTellsARowEachTenSeconds() {
        int machines = Integer.getInteger("rimecast.fleet");
        try (OwnDatabase own = new OwnDatabase()) {
            SiteLogStore store = new SiteLogStore();
            long start = Instant.parse("2026-05-01T00:00:00Z").toEpochMilli();
            for (int row = 0; row < 12; row++) {
                long cpu = cpuNanos();
                long server = serverNanos();
                for (int first = 0; first < machines; first += RECORDS_PER_POLL) {
                    List<Entry> entries = new ArrayList<>();
                    for (int i = first; i < Math.min(machines, first + RECORDS_PER_POLL); i++) {
                        List<Reading> readings = new ArrayList<>();
                        row(readings, "ice-" + i, start + row * 10_000L);
                        entries.add(new Entry(
                                "site-" + i / 10,
                                new Pack("gateway-" + i / 10, Optional.empty(), Instant.EPOCH, readings, 0)));
                    }
                    own.database().jdbi().useTransaction(handle -> store.add(handle, entries));
                }
                System.out.printf(
                        "row %d: our own share %.1f, the server's %.1f us of processor time a pack%n",
                        row, (cpuNanos() - cpu) / 1e3 / machines, (serverNanos() - server) / 1e3 / machines);
            }
        }
    }

    private long serverNanos() {
        return ProcessHandle.allProcesses()
                .filter(process -> process.info()
                                .commandLine()
                                .orElse("")
                                .contains(OwnDatabase.directory().toString())
                        && process.info().commandLine().orElse("").contains("postgres"))
                .flatMap(ProcessHandle::descendants)
                .mapToLong(process ->
                        process.info().totalCpuDuration().orElse(Duration.ZERO).toNanos())
                .sum();
    }

    private record Encoded(String site, byte[] bytes) {}

    private static long cpuNanos() {
        return ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime();
    }

    private static long take(Database database, SiteLogStore store, List<Encoded> poll) {
        List<Entry> entries = poll.stream()
                .map(record -> new Entry(record.site(), SiteLogCodec.decode(record.bytes())))
                .toList();
        database.jdbi().useTransaction(handle -> store.add(handle, entries));
        return entries.stream()
                .mapToLong(entry -> ((Pack) entry.content()).readings().size())
                .sum();
    }

    private static Encoded encoded(int gateway, Instant from) {
        List<Reading> readings = new ArrayList<>();
        for (int minute = 0; minute < MINUTES_PER_PACK; minute++) {
            long millis = from.plus(Duration.ofMinutes(minute)).toEpochMilli();
            for (int i = 0; i < 4; i++) {
                String machine = "ice-" + (gateway * 4 + i);
                row(readings, machine, millis);
            }
        }
        return new Encoded(
                "site-" + gateway,
                SiteLogCodec.encode(new Pack("gateway-" + gateway, Optional.empty(), from, readings, 0)));
    }

    private static void row(List<Reading> readings, String machine, long millis) {
        double phase = (millis / 60_000 % 25) / 25.0;
        readings.add(Reading.number(machine, Channel.EVAPORATOR_TEMPERATURE, millis, 5 - 22 * phase));
        readings.add(Reading.number(machine, Channel.CONDENSER_TEMPERATURE, millis, 34 + 8 * phase));
        readings.add(Reading.number(machine, Channel.AMBIENT_TEMPERATURE, millis, 24.5));
        readings.add(Reading.number(machine, Channel.WATER_TEMPERATURE, millis, 14.25));
        readings.add(Reading.number(machine, Channel.SUPPLY_CURRENT, millis, 3.1));
        readings.add(Reading.phase(machine, millis, Phase.FREEZE));
        readings.add(Reading.flag(machine, Channel.BIN_FULL, millis, false));
        readings.add(Reading.flag(machine, Channel.DRAIN_LEVEL, millis, false));
    }
}
