package dev.rimecast.analytics.making;

import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.making.Current.Power;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.policy.Threshold;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * What is said of a machine that makes no ice though nothing of it has stopped, with causes. How the causes share is common
 * practice, from no survey; what is left to one is that nothing is wrong but that nobody takes ice.
 */
final class MissingIce {
    private static final String WARM =
            "The plate, which hangs over the ice, has been as warm as the room for hours: there is none.";
    private static final String COLD = "The plate, which hangs over the ice, is cold: there is still ice in the bin.";
    private static final String CALL = "Missing ice was reported while the machine rested.";
    private static final String MAY_BE_QUIET = "It may be that nobody takes ice.";
    private static final String AFTER_CLEANING = "A cleaning was recorded shortly before.";
    private static final String NO_REASON = "Its channels don't say why it rests.";

    private static final Threshold DRAWS_LITTLE = new Threshold.BuiltIn("starts_without_compressor", 3, "");

    private MissingIce() {}

    static Assessment of(Pauses pauses, Pauses.TooLong why, boolean called, boolean isAfterCleaning, Power power) {
        boolean isWarm = why == Pauses.TooLong.PLATE_WARM;
        List<String> also = new ArrayList<>();
        if (isWarm) {
            also.add(WARM);
        }
        if (called) {
            also.add(CALL);
        }
        return switch (pauses.current().doing()) {
            case FULL -> full(pauses, also, by(why, called, isAfterCleaning));
            case OFF -> off(pauses, also, by(why, called, isAfterCleaning));
            case MAKING, REDUCED, WAITING, CLEANING, STOPPED, RESTING ->
                resting(pauses, also, isAfterCleaning, power, by(why, called, isAfterCleaning));
        };
    }

    private static Assessment full(Pauses pauses, List<String> also, List<PolicyNumber> by) {
        String text = String.format(
                Locale.ROOT,
                "The machine says that its bin is full and has made no ice for %.0f h.",
                pauses.current().restHours());
        List<String> words = words(text, pauses.usualHours(), also);
        double probability = also.isEmpty() ? 0.65 : 0.9;
        List<String> against = new ArrayList<>();
        if (also.isEmpty()) {
            against.add(MAY_BE_QUIET);
        }
        if (pauses.isPlateCold()) {
            against.add(COLD);
        }
        return found(words, also, by)
                .causes(List.of(new ProbableCause(Cause.BIN_SENSOR_FAILED, probability, words, against)));
    }

    private static Assessment off(Pauses pauses, List<String> also, List<PolicyNumber> by) {
        String text = String.format(
                Locale.ROOT,
                "The machine has been switched off for %.0f h.",
                pauses.current().hoursOnEnd());
        List<String> words = words(text, pauses.usualOffHours(), also);
        return found(words, also, by).causes(List.of(new ProbableCause(Cause.POWER_OFF, 0.95, words, List.of())));
    }

    /** One machine says it for all of its site. */
    static Assessment offTogether(Pauses pauses) {
        String text = String.format(
                Locale.ROOT,
                "All machines of the site were switched off together and have been off for %.0f h: it seems to be closed.",
                pauses.current().hoursOnEnd());
        return Assessment.of(
                        Stage.STOPPED, Priority.LOW, text, List.of(PolicyNumber.OFF_HOURS, PolicyNumber.HABIT_FACTOR))
                .causes(List.of(new ProbableCause(Cause.POWER_OFF, 0.95, List.of(text), List.of())));
    }

    private static Assessment resting(
            Pauses pauses, List<String> also, boolean isAfterCleaning, Power power, List<PolicyNumber> by) {
        String text = String.format(
                Locale.ROOT,
                "The machine has not run for %.0f h.",
                pauses.current().restHours());
        List<String> words = words(text, pauses.usualHours(), also);
        List<String> against = also.isEmpty() ? List.of(NO_REASON, MAY_BE_QUIET) : List.of(NO_REASON);
        List<String> afterCleaning = new ArrayList<>(words);
        afterCleaning.add(AFTER_CLEANING);
        double known = also.isEmpty() ? 0.8 : 1;
        if (power == Power.OFF) {
            List<String> dead = new ArrayList<>(words);
            dead.add("It draws no current.");
            return found(words, also, by).causes(List.of(cause(Cause.POWER_OFF, 0.95, dead, List.of())));
        }
        List<ProbableCause> causes = isAfterCleaning
                ? List.of(
                        cause(Cause.LEFT_IN_CLEANING, 0.38 * known, afterCleaning, against),
                        cause(Cause.POWER_OFF, 0.33 * known, words, against),
                        cause(Cause.BIN_SENSOR_FAILED, 0.14 * known, words, against),
                        cause(Cause.COMPRESSOR_NOT_STARTING, 0.08 * known, words, against))
                : List.of(
                        cause(Cause.POWER_OFF, 0.37 * known, words, against),
                        cause(Cause.BIN_SENSOR_FAILED, 0.28 * known, words, against),
                        cause(Cause.COMPRESSOR_NOT_STARTING, 0.16 * known, words, against),
                        cause(Cause.LEFT_IN_CLEANING, 0.11 * known, words, against));
        return found(words, also, by).causes(power == Power.ON ? withPower(causes) : causes);
    }

    /** What is left once its current says that it has power. */
    private static List<ProbableCause> withPower(List<ProbableCause> causes) {
        double off = causes.stream()
                .filter(each -> each.cause() == Cause.POWER_OFF)
                .mapToDouble(ProbableCause::probability)
                .sum();
        double all = causes.stream().mapToDouble(ProbableCause::probability).sum();
        return causes.stream()
                .filter(each -> each.cause() != Cause.POWER_OFF)
                .map(each -> {
                    List<String> words = new ArrayList<>(each.evidenceFor());
                    words.add("It draws current, so it has power.");
                    double probability = each.probability() * all / (all - off);
                    return cause(each.cause(), probability, words, each.evidenceAgainst());
                })
                .toList();
    }

    /** What else is known says why it is too long; where nothing is, the machine's habit does. */
    private static List<String> words(String text, double usualHours, List<String> also) {
        List<String> words = new ArrayList<>();
        words.add(text);
        words.addAll(also);
        if (also.isEmpty()) {
            words.add(
                    usualHours == 0
                            ? "It has never done so in the last weeks."
                            : String.format(Locale.ROOT, "In the last weeks it was at most %.0f h.", usualHours));
        }
        return words;
    }

    private static Assessment found(List<String> words, List<String> also, List<PolicyNumber> by) {
        Priority priority = also.isEmpty() ? Priority.MEDIUM : Priority.HIGH;
        return Assessment.of(Stage.STOPPED, priority, String.join(" ", words), by);
    }

    private static List<PolicyNumber> by(Pauses.TooLong why, boolean called, boolean isAfterCleaning) {
        if (called) {
            return List.of(PolicyNumber.CALL_MINUTES);
        }
        return switch (why) {
            case PLATE_WARM -> List.of(PolicyNumber.WARM_PLATE_HOURS, PolicyNumber.HABIT_FACTOR);
            case OFF -> List.of(PolicyNumber.OFF_HOURS, PolicyNumber.HABIT_FACTOR);
            case REST ->
                isAfterCleaning
                        ? List.of(PolicyNumber.REST_AFTER_CLEANING_HOURS)
                        : List.of(PolicyNumber.REST_HOURS, PolicyNumber.HABIT_FACTOR, PolicyNumber.UNTOUCHED_BIN_HOURS);
        };
    }

    static Assessment neverFull(EndlessRun run) {
        String text = String.format(
                Locale.ROOT,
                "The machine has made %d batches without its bin being full; there were never more than %d before.",
                run.cycles(),
                run.usualCycles());
        return Assessment.of(
                        Stage.AT_LIMIT, Priority.MEDIUM, text, List.of(PolicyNumber.RUN_FACTOR, PolicyNumber.RUN_BINS))
                .causes(List.of(new ProbableCause(
                        Cause.BIN_SENSOR_FAILED,
                        0.6,
                        List.of(text),
                        List.of("It may be that much more ice is taken."))));
    }

    /** Controllers end a freeze after an hour; and no longer one is taken for a freeze at all [common practice]. */
    static final long FROZEN_MILLIS = 100 * 60_000L;

    private static final Threshold FROZEN = new Threshold.BuiltIn("frozen_minutes", FROZEN_MILLIS / 60_000.0, "min");

    static Assessment withoutHarvest(long frozenMillis) {
        String text = String.format(
                Locale.ROOT,
                "The plate has been seen frozen for %.1f h on end and goes on being cooled: no harvest frees it.",
                frozenMillis / 3_600_000.0);
        List<String> words = List.of(text);
        return Assessment.of(Stage.STOPPED, Priority.HIGH, text, FROZEN)
                .causes(List.of(
                        cause(Cause.HOT_GAS_VALVE_NOT_OPENING, 0.65, words, List.of()),
                        cause(Cause.CONTROLLER_FAILED, 0.2, words, List.of()),
                        cause(Cause.WATER_SUPPLY_LOW, 0.05, words, List.of())));
    }

    /** What keeps a machine that runs from finishing a cycle, where its cycles before say nothing of it [common practice]. */
    static List<ProbableCause> causesOfNoEnd(String seen) {
        List<String> words = List.of(seen);
        return List.of(
                cause(Cause.CONTROLLER_FAILED, 0.4, words, List.of()),
                cause(Cause.HOT_GAS_VALVE_NOT_OPENING, 0.15, words, List.of()),
                cause(Cause.COMPRESSOR_NOT_STARTING, 0.15, words, List.of()),
                cause(Cause.WATER_SUPPLY_LOW, 0.1, words, List.of()));
    }

    static Assessment drawsLittle(Current current) {
        String text = String.format(
                Locale.ROOT,
                "The machine tries to start again and again, but draws %.2f A, as its pump and fan do, where it drew %.1f A.",
                current.ampere(),
                current.runningAmpere());
        return Assessment.of(Stage.STOPPED, Priority.URGENT, text, DRAWS_LITTLE).causes(compressorCauses(text));
    }

    static Assessment compressor() {
        String text = "The machine says that it freezes, but its condenser stays as cold as at rest.";
        return Assessment.of(Stage.STOPPED, Priority.URGENT, text, PolicyNumber.COLD_CONDENSER_MINUTES)
                .causes(IceWatch.COMPRESSOR_CAUSES);
    }

    /** What keeps a compressor from running in a freeze. */
    static List<ProbableCause> compressorCauses() {
        return compressorCauses("The condenser does not warm and the plate does not cool in a freeze.");
    }

    private static List<ProbableCause> compressorCauses(String seen) {
        List<String> words = List.of(seen);
        return List.of(
                new ProbableCause(Cause.COMPRESSOR_NOT_STARTING, 0.8, words, List.of()),
                new ProbableCause(Cause.CONTROLLER_FAILED, 0.12, words, List.of()));
    }

    static Assessment startDelay(RuleContext context) {
        String text = String.format(
                Locale.ROOT,
                "After power-on the machine now waits for much longer than the %d s of its register row before it starts.",
                context.machine().startDelaySeconds());
        Threshold delay =
                new Threshold.OfRegister("start_delay_s", context.machine().startDelaySeconds(), "s");
        return Assessment.of(
                        Stage.EARLY,
                        Priority.LOW,
                        text,
                        List.of(
                                delay,
                                PolicyNumber.WAIT_MARGIN_MINUTES,
                                PolicyNumber.WAITS,
                                PolicyNumber.LONG_WAIT_MINUTES))
                .causes(List.of(new ProbableCause(Cause.START_DELAY_SET, 0.8, List.of(text), List.of())));
    }

    static Assessment endlessWait(Pauses pauses) {
        String text = String.format(
                Locale.ROOT,
                "The machine has waited for %.1f h and does not start.",
                pauses.current().hoursOnEnd());
        return Assessment.of(Stage.STOPPED, Priority.HIGH, text, LongWaits.ENDLESS)
                .causes(List.of(
                        cause(Cause.START_DELAY_SET, 0.5, List.of(text), List.of()),
                        cause(Cause.CONTROLLER_FAILED, 0.35, List.of(text), List.of())));
    }

    /** Called for and powered, by the channel of the bin, but its compressor rests; its phase is unknown, or idle. */
    static Assessment notStarting(Pauses pauses, boolean saysIdle, boolean isAfterCleaning, Power power) {
        if (!saysIdle && power == Power.OFF) {
            String text = String.format(
                    Locale.ROOT,
                    "The bin is not full, but the machine has not run for %.1f h and draws no current.",
                    pauses.current().hoursOnEnd());
            return notStarting(text, List.of(cause(Cause.POWER_OFF, 0.9, List.of(text), List.of())));
        }
        String text = String.format(
                Locale.ROOT,
                saysIdle
                        ? "The machine idles though its bin is not full, and has not run for %.1f h."
                        : "The bin is not full and the controller has power, but the compressor has not run for %.1f h.",
                pauses.current().hoursOnEnd());
        List<String> words = List.of(text);
        List<String> against = List.of(NO_REASON);
        List<String> afterCleaning = List.of(text, AFTER_CLEANING);
        if (saysIdle) {
            return notStarting(
                    text,
                    List.of(
                            cause(Cause.CONTROLLER_FAILED, 0.55, words, List.of()),
                            cause(Cause.BIN_SENSOR_FAILED, 0.2, words, List.of()),
                            cause(Cause.COMPRESSOR_NOT_STARTING, 0.1, words, List.of())));
        }
        List<ProbableCause> usual = isAfterCleaning
                ? List.of(
                        cause(Cause.LEFT_IN_CLEANING, 0.5, afterCleaning, against),
                        cause(Cause.COMPRESSOR_NOT_STARTING, 0.23, words, against),
                        cause(Cause.CONTROLLER_FAILED, 0.1, words, against))
                : List.of(
                        cause(Cause.COMPRESSOR_NOT_STARTING, 0.38, words, against),
                        cause(Cause.CONTROLLER_FAILED, 0.17, words, against),
                        cause(Cause.LEFT_IN_CLEANING, 0.15, words, against),
                        cause(Cause.START_DELAY_SET, 0.08, words, against));
        return notStarting(text, usual);
    }

    private static Assessment notStarting(String text, List<ProbableCause> causes) {
        return Assessment.of(
                        Stage.STOPPED,
                        Priority.HIGH,
                        text,
                        List.of(PolicyNumber.CALLED_HOURS, PolicyNumber.HABIT_FACTOR))
                .causes(causes);
    }

    private static ProbableCause cause(Cause cause, double probability, List<String> inFavour, List<String> against) {
        return new ProbableCause(cause, probability, inFavour, against);
    }
}
