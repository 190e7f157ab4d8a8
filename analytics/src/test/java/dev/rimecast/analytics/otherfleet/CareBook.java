package dev.rimecast.analytics.otherfleet;

import dev.rimecast.telemetry.file.EventRow;
import dev.rimecast.telemetry.log.EventKind;
import java.time.DayOfWeek;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;

/** Cleanings, filters and visits of one machine, and the fault that one of them leaves behind. */
final class CareBook {
    private static final double DAY_SECONDS = 86_400;
    private static final double SHARE_AFTER_WORK = 0.65;

    private final String machine;
    private final Instant start;
    private final Premises premises;
    private final SplittableRandom random;
    final List<Double> cleanings = new ArrayList<>();
    final List<Double> washings = new ArrayList<>();
    final List<EventRow> events = new ArrayList<>();
    Optional<Fault> fault;

    CareBook(
            String machine,
            Instant start,
            int days,
            Premises premises,
            Optional<Fault> dealt,
            SplittableRandom random) {
        this.machine = machine;
        this.start = start;
        this.premises = premises;
        this.random = random;
        this.fault = dealt.map(this::inHoursOfUse);
        double end = days * DAY_SECONDS;
        double neglectedFrom = fault.map(Fault::onsetSeconds).orElse(end);
        FaultKind kind = fault.map(Fault::kind).orElse(FaultKind.POWER);
        double cleanEvery = (35 + random.nextInt(40)) * DAY_SECONDS;
        double cleanUntil = kind == FaultKind.SCALE ? neglectedFrom : end;
        for (double at = random.nextDouble() * cleanEvery; at < cleanUntil; at += cleanEvery) {
            clean(inHoursOfUse(at));
        }
        double washEvery = (14 + random.nextInt(25)) * DAY_SECONDS;
        double washUntil = kind == FaultKind.AIRFLOW ? neglectedFrom : end;
        for (double at = random.nextDouble() * washEvery; at < washUntil; at += washEvery) {
            double time = inHoursOfUse(at);
            washings.add(time);
            tell(time, EventKind.AIR_FILTER_WASHED);
        }
        if (random.nextInt(2) == 0) {
            tell(inHoursOfUse(random.nextDouble() * end), EventKind.VISIT);
        }
        fault.ifPresent(this::workBefore);
        cleanings.sort(Comparator.naturalOrder());
    }

    private void clean(double at) {
        cleanings.add(at);
        tell(at, EventKind.CLEANED);
    }

    /** Most faults that somebody makes follow a cleaning, some a visit, the rest nothing that was written down. */
    private void workBefore(Fault made) {
        FaultKind kind = made.kind();
        switch (kind) {
            case CLEANING -> clean(made.onsetSeconds());
            case AIR, OVERCHARGED, SWAPPED -> tell(made.onsetSeconds() - 300, EventKind.VISIT);
            default -> {
                if (kind.isMadeBySomebody() && random.nextDouble() < SHARE_AFTER_WORK) {
                    boolean cleaned = random.nextInt(3) > 0;
                    if (cleaned) {
                        clean(made.onsetSeconds() - 3600);
                    } else {
                        tell(made.onsetSeconds() - 900, EventKind.VISIT);
                    }
                }
            }
        }
    }

    private void tell(double at, EventKind kind) {
        Instant time = start.plusSeconds((long) at);
        events.add(new EventRow(time, Optional.of(machine), Optional.empty(), kind, "", "", ""));
    }

    private Fault inHoursOfUse(Fault dealt) {
        boolean anyTime = !dealt.kind().isMadeBySomebody();
        return anyTime
                ? dealt
                : new Fault(dealt.kind(), inHoursOfUse(dealt.onsetSeconds()), dealt.growthSeconds(), dealt.severity());
    }

    /** The same day, or the next on which the place is open, early in its hours. */
    private double inHoursOfUse(double at) {
        double day = Math.floor(at / DAY_SECONDS);
        while (premises.closedDays.contains(weekday(day))) {
            day++;
        }
        double hour = premises.opens + 1.2 + random.nextDouble() * 0.4 * (premises.closes - premises.opens);
        return Math.floor(day * DAY_SECONDS + hour * 3600);
    }

    private DayOfWeek weekday(double day) {
        return start.plusSeconds((long) (day * DAY_SECONDS))
                .atZone(ZoneOffset.UTC)
                .getDayOfWeek();
    }
}
