package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/** One site with one gateway, fed by hand, that writes down what comes out. */
final class Scene extends Recorded {
    static final String SITE = "cellar";
    static final String GATEWAY = "gw-1";

    private SiteMonitor monitor = SiteMonitor.fresh(SITE, Policy.standard());
    private boolean stopsAfterEveryRecord;
    private int largest;

    Scene(String... machines) {
        register(machines);
    }

    /** One whose cycles are noted, too. */
    static Scene taped(TapeWriter writer, String... machines) {
        Scene scene = new Scene();
        scene.monitor.tapedBy(writer);
        scene.register(machines);
        return scene;
    }

    private void register(String... machines) {
        for (String machine : machines) {
            take(new SiteRecord.Registered(Instant.EPOCH, Machine.basic(machine, SITE, GATEWAY)));
        }
    }

    /** From here on the monitor is saved and restored after every record. */
    Scene stoppingAfterEveryRecord() {
        stopsAfterEveryRecord = true;
        return this;
    }

    Scene take(SiteRecord siteRecord) {
        monitor.accept(siteRecord, this);
        if (stopsAfterEveryRecord) {
            restart();
        }
        return this;
    }

    void restart() {
        monitor.saveTouched(this::keep);
        monitor = SiteMonitor.restore(SITE, states);
    }

    /** Takes up what a monitor has saved. */
    Scene goesOnFrom(Map<String, byte[]> saved) {
        states.putAll(saved);
        monitor = SiteMonitor.restore(SITE, states);
        return this;
    }

    @Override
    public void keep(String key, byte @Nullable [] bytes) {
        super.keep(key, bytes);
        if (bytes != null && Character.isLetterOrDigit(key.isEmpty() ? ' ' : key.charAt(0))) {
            largest = Math.max(largest, bytes.length);
        }
    }

    /** Size of the largest state of a machine so far, bytes. */
    int largestState() {
        return largest;
    }

    Scene pack(Reading... readings) {
        return take(new SiteRecord.Pack(
                GATEWAY, Optional.empty(), Instant.ofEpochMilli(readings[0].timeMillis()), List.of(readings), 0));
    }

    /** One pack for all readings of one time, and a tick for every whole minute that passes. */
    Scene readings(List<Reading> readings) {
        long minute = Long.MIN_VALUE;
        for (int i = 0; i < readings.size(); ) {
            long time = readings.get(i).timeMillis();
            for (; minute != Long.MIN_VALUE && minute + 60_000 <= time; minute += 60_000) {
                take(new SiteRecord.Tick(Instant.ofEpochMilli(minute + 60_000)));
            }
            minute = minute == Long.MIN_VALUE ? time - time % 60_000 : minute;
            int from = i;
            while (i < readings.size() && readings.get(i).timeMillis() == time) {
                i++;
            }
            pack(readings.subList(from, i).toArray(Reading[]::new));
        }
        return this;
    }

    Scene ticks(int minutes) {
        for (int i = 0; i < minutes; i++) {
            take(new SiteRecord.Tick(Instant.EPOCH));
        }
        return this;
    }

    List<Finding> of(Condition condition) {
        return findings.stream().filter(f -> f.condition() == condition).toList();
    }

    MonitorCounts counts() {
        return monitor.counts();
    }
}
