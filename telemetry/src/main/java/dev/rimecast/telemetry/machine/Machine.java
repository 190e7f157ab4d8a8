package dev.rimecast.telemetry.machine;

import java.time.LocalDate;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;

/**
 * One row of the register: a machine, where it stands, who speaks for it, and what its own controller does.
 * An absent limit means "that of the model group in the policy".
 */
public record Machine(
        String id,
        String site,
        String gateway,
        Optional<String> room,
        Optional<String> modelGroup,
        Optional<String> serial,
        Kind kind,
        Cooling condenserCooling,
        double ratedKgPerDay,
        double binKg,
        Optional<String> refrigerant,
        Optional<EndsBy> freezeEndsBy,
        Optional<EndsBy> harvestEndsBy,
        Optional<EndsBy> fillEndsBy,
        ProbeAt evaporatorProbeAt,
        Limits limits,
        DrainKind drainKind,
        int startDelaySeconds,
        PlaceLimits place,
        CareIntervals care,
        Optional<LocalDate> installed,
        Optional<LocalDate> lampInstalled,
        Optional<LocalDate> warrantyUntil,
        Build build) {

    /** How ice is made. A continuous machine gets silence, temperature and drain checks only. */
    public enum Kind {
        BATCH,
        CONTINUOUS
    }

    /** Where the condenser's heat goes; the split against room air is judged for {@link #AIR} only. */
    public enum Cooling {
        AIR,
        WATER,
        REMOTE
    }

    /** What ends a freeze, a harvest or a fill. */
    public enum EndsBy {
        TEMPERATURE,
        TIME,
        LEVEL,
        THICKNESS
    }

    /** Where the evaporator probe sits. */
    public enum ProbeAt {
        PLATE,
        OUTLET
    }

    /** Whether waste water falls away or is pumped. */
    public enum DrainKind {
        GRAVITY,
        PUMP
    }

    /** What brings the water to the plate or the cups. */
    public enum SprayUnit {
        PLATE,
        BAR,
        JETS
    }

    /**
     * How it is built, as far as the register says so. What detection needs has a default above; what people are advised
     * to do with their hands must not rest on one.
     */
    public record Build(Optional<SprayUnit> sprayUnit, Optional<DrainKind> drain, Optional<Cooling> cooling) {
        public static final Build NOT_SAID = new Build(Optional.empty(), Optional.empty(), Optional.empty());
    }

    /**
     * Where the machine's own controller stops.
     *
     * @param condensingCelsius condensing temperature, °C
     * @param pullDownSeconds freeze start to 0 °C, s
     * @param drainLevelSeconds length of the drain tank's level signal, s
     * @param drainRunOnSeconds how long a healthy pump runs after the level signal has ended, s
     */
    public record Limits(
            OptionalDouble condensingCelsius,
            OptionalDouble pullDownSeconds,
            OptionalDouble drainLevelSeconds,
            OptionalDouble drainRunOnSeconds) {
        public static final Limits OF_GROUP = new Limits(
                OptionalDouble.empty(), OptionalDouble.empty(), OptionalDouble.empty(), OptionalDouble.empty());
    }

    /** What the place must offer, °C. */
    public record PlaceLimits(
            double ambientMinCelsius, double ambientMaxCelsius, double waterMinCelsius, double waterMaxCelsius) {
        public static final PlaceLimits USUAL = new PlaceLimits(10, 40, 5, 35);
    }

    /** Days between planned care; absent means that of the model group. */
    public record CareIntervals(
            OptionalInt cleaningDays, OptionalInt airFilterDays, OptionalInt waterFilterDays, OptionalInt lampDays) {
        public static final CareIntervals OF_GROUP =
                new CareIntervals(OptionalInt.empty(), OptionalInt.empty(), OptionalInt.empty(), OptionalInt.empty());
    }

    public Machine {
        Ids.require("machine", id);
        Ids.require("site", site);
        Ids.require("gateway", gateway);
        if (!(ratedKgPerDay > 0)) {
            throw new IllegalArgumentException("rated_kg_per_day of " + id + " must be above 0, was " + ratedKgPerDay);
        }
        if (!(binKg > 0)) {
            throw new IllegalArgumentException("bin_kg of " + id + " must be above 0, was " + binKg);
        }
        if (startDelaySeconds < 0) {
            throw new IllegalArgumentException(
                    "start_delay_s of " + id + " must not be negative: " + startDelaySeconds);
        }
    }

    /** The same machine, built so. */
    public Machine withBuild(Build known) {
        return new Machine(
                id,
                site,
                gateway,
                room,
                modelGroup,
                serial,
                kind,
                known.cooling().orElse(condenserCooling),
                ratedKgPerDay,
                binKg,
                refrigerant,
                freezeEndsBy,
                harvestEndsBy,
                fillEndsBy,
                evaporatorProbeAt,
                limits,
                known.drain().orElse(drainKind),
                startDelaySeconds,
                place,
                care,
                installed,
                lampInstalled,
                warrantyUntil,
                known);
    }

    /** The same machine on another site. */
    public Machine onSite(String other) {
        return new Machine(
                id,
                other,
                gateway,
                room,
                modelGroup,
                serial,
                kind,
                condenserCooling,
                ratedKgPerDay,
                binKg,
                refrigerant,
                freezeEndsBy,
                harvestEndsBy,
                fillEndsBy,
                evaporatorProbeAt,
                limits,
                drainKind,
                startDelaySeconds,
                place,
                care,
                installed,
                lampInstalled,
                warrantyUntil,
                build);
    }

    /** A machine of which only the required columns are known. */
    public static Machine basic(String id, String site, String gateway) {
        return new Machine(
                id,
                site,
                gateway,
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Kind.BATCH,
                Cooling.AIR,
                50,
                20,
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                ProbeAt.PLATE,
                Limits.OF_GROUP,
                DrainKind.GRAVITY,
                300,
                PlaceLimits.USUAL,
                CareIntervals.OF_GROUP,
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Build.NOT_SAID);
    }
}
