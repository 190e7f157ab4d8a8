package dev.rimecast.analytics.sensor;

import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.policy.Threshold;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.machine.Channel;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** What is said of a sensor that cannot be right. How causes share is common practice. */
record SensorWords(String text, List<ProbableCause> causes, List<Threshold> by) {

    private static final List<Threshold> STUCK = List.of(PolicyNumber.SENSOR_STUCK_MINUTES);

    /** Says it, unless something is already said of a sensor of this machine. */
    void report(long millis, RuleContext context) {
        if (!context.isOpen(Condition.SENSOR_IMPLAUSIBLE)) {
            context.report(
                    Condition.SENSOR_IMPLAUSIBLE,
                    millis,
                    Assessment.of(Stage.AT_LIMIT, Priority.MEDIUM, text, by).causes(causes));
        }
    }

    /** @param bound the one that it is beyond */
    static SensorWords beyond(Channel channel, double celsius, PolicyNumber bound) {
        return of(
                channel,
                0.85,
                String.format(
                        Locale.ROOT,
                        "The %s sensor shows %.0f °C, which it cannot: it is open or shorted.",
                        name(channel),
                        celsius),
                List.of(bound, PolicyNumber.SENSOR_BAD_MINUTES));
    }

    static SensorWords stuck(Channel channel, double celsius, long forMillis) {
        return of(
                channel,
                0.85,
                String.format(
                        Locale.ROOT,
                        "The %s sensor has shown %.1f °C for %.0f minutes while the machine ran.",
                        name(channel),
                        celsius,
                        forMillis / 60_000.0),
                STUCK);
    }

    static SensorWords silent(Channel channel, long forMillis) {
        return of(
                channel,
                0.85,
                String.format(
                        Locale.ROOT,
                        "The %s sensor has sent nothing for %.0f minutes while the other one showed that the machine ran.",
                        name(channel),
                        forMillis / 60_000.0),
                STUCK);
    }

    static SensorWords frozenAtRest(double celsius, long forMillis) {
        return of(
                Channel.EVAPORATOR_TEMPERATURE,
                0.85,
                String.format(
                        Locale.ROOT,
                        "The evaporator sensor has shown %.1f °C for %.0f minutes of rest; a plate that nothing cools"
                                + " can't stay frozen.",
                        celsius,
                        forMillis / 60_000.0),
                STUCK);
    }

    static SensorWords jumping(Channel channel) {
        String text = "The " + name(channel) + " sensor jumps and comes back within a reading, which metal can't do.";
        if (channel != Channel.EVAPORATOR_TEMPERATURE) {
            return of(channel, 0.85, text, Spikes.DECIDES);
        }
        return new SensorWords(
                text,
                List.of(
                        new ProbableCause(Cause.EVAPORATOR_SENSOR_FAILED, 0.7, List.of(text), List.of()),
                        new ProbableCause(Cause.EVAPORATOR_SENSOR_LOOSE, 0.2, List.of(text), List.of())),
                Spikes.DECIDES);
    }

    static SensorWords swapped() {
        String text = "The condenser channel shows a freezing plate while the evaporator channel shows a condenser:"
                + " the two probes are swapped.";
        return new SensorWords(
                text,
                List.of(new ProbableCause(Cause.PROBES_SWAPPED, 0.95, List.of(text), List.of())),
                SwappedProbes.DECIDES);
    }

    static SensorWords shifted(RestShift rest) {
        double kelvin = rest.kelvin().orElse(0);
        String text = String.format(
                Locale.ROOT,
                "After long rest the condenser sensor now shows %.1f K %s over the ambient %s than it used to.",
                StrictMath.abs(kelvin),
                kelvin > 0 ? "more" : "less",
                rest.isByOwn() ? "sensor" : "of its neighbours");
        return atRest(text, PolicyNumber.REST_SHIFT_KELVIN);
    }

    static SensorWords atOdds(RestShift rest) {
        String text = String.format(
                Locale.ROOT,
                "After long rest the condenser sensor shows %.1f K %s than the ambient sensor; both should be near.",
                StrictMath.abs(rest.latestKelvin()),
                rest.latestKelvin() > 0 ? "more" : "less");
        return atRest(text, PolicyNumber.REST_DIFFERENCE_KELVIN);
    }

    private static SensorWords atRest(String text, PolicyNumber by) {
        return new SensorWords(
                text,
                List.of(new ProbableCause(
                        Cause.CONDENSER_SENSOR_FAILED,
                        0.75,
                        List.of(text),
                        List.of("It may be the ambient sensor that is wrong, or that was put elsewhere."))),
                List.of(by));
    }

    private static SensorWords of(Channel channel, double probability, String text, List<Threshold> by) {
        return new SensorWords(
                text,
                cause(channel)
                        .map(cause -> List.of(new ProbableCause(cause, probability, List.of(text), List.of())))
                        .orElse(List.of()),
                by);
    }

    private static Optional<Cause> cause(Channel channel) {
        return switch (channel) {
            case EVAPORATOR_TEMPERATURE -> Optional.of(Cause.EVAPORATOR_SENSOR_FAILED);
            case CONDENSER_TEMPERATURE -> Optional.of(Cause.CONDENSER_SENSOR_FAILED);
            default -> Optional.empty();
        };
    }

    private static String name(Channel channel) {
        return channel.code().replace("_temperature", "");
    }
}
