package dev.rimecast.analytics.policy;

import dev.rimecast.telemetry.finding.Ground;
import dev.rimecast.telemetry.finding.Ground.Source;
import dev.rimecast.telemetry.machine.Machine;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;

/** What the numbers of a rule are for one machine, and whose numbers they are. */
public final class Grounding {
    private static final String SHARE = "/";

    private Grounding() {}

    /** @param machine absent for a gateway */
    public static List<Ground> of(List<Threshold> thresholds, GroupPolicy policy, Optional<Machine> machine) {
        return thresholds.stream()
                .map(threshold -> of(threshold, policy, machine))
                .toList();
    }

    private static Ground of(Threshold threshold, GroupPolicy policy, Optional<Machine> machine) {
        if (threshold instanceof PolicyNumber number) {
            OptionalDouble row = machine.map(known -> ofRow(known, number)).orElseGet(OptionalDouble::empty);
            return new Ground(
                    path(number),
                    row.orElse(policy.get(number)),
                    unit(number.key()),
                    row.isPresent() ? Source.REGISTER : policy.source(number));
        }
        if (threshold instanceof Threshold.OfFeature of) {
            return new Ground(
                    path(of),
                    policy.get(of.feature(), of.number()),
                    unit(of),
                    policy.source(of.feature(), of.number()));
        }
        if (threshold instanceof Threshold.OfRegister of) {
            return new Ground("register." + of.column(), of.value(), of.unit(), Source.REGISTER);
        }
        Threshold.BuiltIn own = (Threshold.BuiltIn) threshold;
        return new Ground("detector." + own.name(), own.value(), own.unit(), Source.DETECTOR);
    }

    /** Where a number stands in {@code policy.yaml}, below {@code all} or a group. */
    static String path(PolicyNumber number) {
        return number.section() + '.' + number.key();
    }

    static String path(Threshold.OfFeature of) {
        return "features." + of.feature().name().toLowerCase(Locale.ROOT) + '.'
                + of.number().key();
    }

    /** The register's own value, where a machine's row can have one. */
    private static OptionalDouble ofRow(Machine machine, PolicyNumber number) {
        Machine.Limits limits = machine.limits();
        Machine.CareIntervals care = machine.care();
        return switch (number) {
            case CONDENSING_LIMIT_CELSIUS -> limits.condensingCelsius();
            case PULL_DOWN_LIMIT_SECONDS -> limits.pullDownSeconds();
            case DRAIN_LEVEL_LIMIT_SECONDS -> limits.drainLevelSeconds();
            case DRAIN_RUN_ON_SECONDS -> limits.drainRunOnSeconds();
            case CLEANING_DAYS -> real(care.cleaningDays());
            case AIR_FILTER_DAYS -> real(care.airFilterDays());
            case WATER_FILTER_DAYS -> real(care.waterFilterDays());
            case LAMP_DAYS -> real(care.lampDays());
            default -> OptionalDouble.empty();
        };
    }

    private static OptionalDouble real(OptionalInt days) {
        return days.isPresent() ? OptionalDouble.of(days.getAsInt()) : OptionalDouble.empty();
    }

    /** By the end of the name, as {@code policy.yaml} has them. */
    static String unit(String key) {
        return switch (key.substring(key.lastIndexOf('_') + 1)) {
            case "celsius" -> "Cel";
            case "kelvin" -> "K";
            case "seconds" -> "s";
            case "minutes" -> "min";
            case "hours" -> "h";
            case "days" -> "days";
            case "share" -> SHARE;
            default -> "";
        };
    }

    /** Of features that are judged as ratios, everything but the typical value is a share. */
    static String unit(Threshold.OfFeature of) {
        String own = of.feature().unit();
        return switch (of.feature()) {
            case SPLIT, EVAPORATOR_END -> of.number() == FeatureNumber.TYPICAL ? own : "K";
            case PULL_DOWN, FREEZE, HARVEST, DRAIN_LEVEL, DRAIN_RUN, FILL, WATER_USE, ICE_MADE ->
                of.number() == FeatureNumber.TYPICAL ? own : SHARE;
        };
    }
}
