package dev.rimecast.analytics.watch;

import dev.rimecast.telemetry.cycle.Feature;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Locale;

/** What is said when a change is over. */
final class Ending {
    private static final DateTimeFormatter MINUTES =
            DateTimeFormatter.ofPattern("uuuu-MM-dd HH:mm", Locale.ROOT).withZone(ZoneOffset.UTC);

    static final String NOTHING_FOUND =
            "An engineer has looked and found nothing. Its water is not measured: what the machine does now is learned"
                    + " as normal.";

    private Ending() {}

    /** @param millis when the site said that it had put something right */
    static String putRight(long millis, int cycles) {
        return String.format(
                Locale.ROOT,
                "Put right on site: the %d cycles since %s UTC are as they should be.",
                cycles,
                MINUTES.format(Instant.ofEpochMilli(millis)));
    }

    static String of(Feature feature) {
        return switch (feature) {
            case PULL_DOWN -> "Pull-down is as it should be again.";
            case FREEZE -> "Freezes are as long as they should be again.";
            case HARVEST -> "Harvests are as long as they should be again.";
            case SPLIT -> "Condensing temperature over ambient is as it should be again.";
            case EVAPORATOR_END -> "The evaporator gets as cold as it should again.";
            case DRAIN_LEVEL, DRAIN_RUN -> "The drain runs as long as it should again.";
            case FILL -> "Fills are as long as they should be again.";
            case WATER_USE -> "The machine takes as much water as it should again.";
            case ICE_MADE -> "The machine makes as much ice as it should again.";
        };
    }
}
