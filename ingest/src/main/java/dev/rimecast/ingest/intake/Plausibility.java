package dev.rimecast.ingest.intake;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.reading.Reading;
import dev.rimecast.telemetry.reading.RejectReason;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;

/** What no machine can have said. An open or shorted sensor can: such values pass, analytics judges them. */
final class Plausibility {
    /** Of the contract: a reading may be so far ahead of our clock, for gateways whose clock runs fast. */
    static final Duration MAX_AHEAD = Duration.ofMinutes(10);
    /** Before it, a gateway's clock was never set: battery-less clocks start at 1970, or at 1980. */
    static final Instant EARLIEST = Instant.parse("2000-01-01T00:00:00Z");
    /** Any temperature, °C: open and shorted probes read tens to hundreds, never this. */
    private static final double MAX_CELSIUS = 1000;
    /** Supply current, A: a hundred times what the largest machine draws. */
    private static final double MAX_AMPERE = 10_000;
    /** A length of time within one cycle, s: eleven days. */
    private static final double MAX_SECONDS = 1e6;
    /** A meter's total, m3 or kg. */
    private static final double MAX_TOTAL = 1e12;

    private static final long EARLIEST_MILLIS = EARLIEST.toEpochMilli();

    private final long latestMillis;

    /** @param receivedAt when the message came whose readings are checked */
    Plausibility(Instant receivedAt) {
        latestMillis = receivedAt.plus(MAX_AHEAD).toEpochMilli();
    }

    Optional<Reject> check(int recordIndex, Reading reading) {
        if (reading.timeMillis() > latestMillis) {
            return Optional.of(Reject.record(
                    RejectReason.FUTURE_TIME, recordIndex, Instant.ofEpochMilli(reading.timeMillis()) + " is ahead"));
        }
        if (reading.timeMillis() < EARLIEST_MILLIS) {
            return Optional.of(Reject.record(
                    RejectReason.BAD_TIME,
                    recordIndex,
                    Instant.ofEpochMilli(reading.timeMillis()) + " is too long ago"));
        }
        if (!isPossible(reading)) {
            return Optional.of(Reject.record(
                    RejectReason.OUT_OF_RANGE,
                    recordIndex,
                    reading.channel().code() + " can't be " + reading.value() + " "
                            + reading.channel().unit()));
        }
        return Optional.empty();
    }

    private static boolean isPossible(Reading reading) {
        double value = reading.value();
        return switch (reading.channel().kind()) {
            case NUMBER -> Math.abs(value) <= (reading.channel() == Channel.SUPPLY_CURRENT ? MAX_AMPERE : MAX_CELSIUS);
            case DURATION -> value >= 0 && value <= MAX_SECONDS;
            case COUNTER -> value >= 0 && value <= MAX_TOTAL;
            case FLAG, PHASE, TEXT -> true;
        };
    }
}
