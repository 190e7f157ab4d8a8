package dev.rimecast.alerts.notice.outbox;

import io.micrometer.core.instrument.Counter;
import io.micrometer.core.instrument.MeterRegistry;
import java.util.List;
import java.util.Locale;

/** What became of attempts to tell people, by the way it was tried; never by whom it was for. */
final class NoticeMeter {
    /** How an attempt ended. */
    enum Result {
        SENT,
        /** It is tried again later. */
        RETRIED,
        /** It is not. */
        FAILED
    }

    private static final List<String> CHANNELS = List.of("mail", "webhook");

    private final MeterRegistry meters;

    NoticeMeter(MeterRegistry meters) {
        this.meters = meters;
        // There from the start, so that the first failure is a rise and not a new series.
        CHANNELS.forEach(channel -> {
            for (Result result : Result.values()) {
                counter(channel, result);
            }
        });
    }

    void count(String channel, Result result) {
        counter(channel, result).increment();
    }

    private Counter counter(String channel, Result result) {
        return Counter.builder("rimecast.alerts.notices")
                .description("Attempts to send a notice, by what became of them")
                .tag("channel", channel)
                .tag("outcome", result.name().toLowerCase(Locale.ROOT))
                .register(meters);
    }
}
