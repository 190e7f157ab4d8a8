package dev.rimecast.analytics.acceptance;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.expect.Conditions;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.cycle.Acceptance.Rating;
import dev.rimecast.telemetry.cycle.Acceptance.Verdict;
import dev.rimecast.telemetry.cycle.RatedYield;
import java.util.Optional;
import java.util.OptionalDouble;

/** The place and the ice of a machine's first cycles, in the mean. Memory: 22 bytes. */
final class Output {
    private static final double DAY_SECONDS = 86_400;
    private static final int MOST = 255;

    private int airs;
    private float ambient;
    private int waters;
    private float water;
    private int lengths;
    private float seconds;
    private int ices;
    private float kilograms;

    void take(RawCycle raw, Conditions place) {
        if (place.hasAmbient()) {
            airs++;
            ambient += (float) ((place.ambientCelsius() - ambient) / airs);
        }
        if (place.hasWater()) {
            waters++;
            water += (float) ((place.waterCelsius() - water) / waters);
        }
        if (raw.freezeSeconds().isPresent() && raw.harvestSeconds().isPresent()) {
            lengths++;
            double whole = (raw.endMillis() - raw.freezeStartMillis()) / 1000.0;
            seconds += (float) ((whole - seconds) / lengths);
        }
        raw.iceKilograms().ifPresent(this::weighed);
    }

    /** The ice of one harvest, counted or weighed. */
    void weighed(double harvest) {
        if (ices < MOST) {
            ices++;
            kilograms += (float) ((harvest - kilograms) / ices);
        }
    }

    OptionalDouble ambientCelsius() {
        return airs == 0 ? OptionalDouble.empty() : OptionalDouble.of(ambient);
    }

    OptionalDouble waterCelsius() {
        return waters == 0 ? OptionalDouble.empty() : OptionalDouble.of(water);
    }

    /** Empty where the ice is neither counted nor weighed, or the place is not known. */
    Optional<Rating> rating(double ratedKgPerDay, boolean isEnd, GroupPolicy policy) {
        if (ices == 0 || lengths == 0 || airs == 0 || waters == 0) {
            return Optional.empty();
        }
        double allowed = RatedYield.kgPerDay(ratedKgPerDay, ambient, water);
        double made = kilograms * DAY_SECONDS / seconds;
        boolean isEnough = made >= policy.get(PolicyNumber.LEAST_YIELD_SHARE) * allowed;
        Verdict verdict = lengths < Gauge.FEWEST && !isEnd
                ? Verdict.NOT_YET_KNOWN
                : isEnough ? Verdict.ACCEPTED : Verdict.NOT_ACCEPTED;
        return Optional.of(new Rating(ratedKgPerDay, allowed, made, verdict));
    }

    void save(StateWriter out) {
        out.u8(airs).real32(ambient).u8(waters).real32(water);
        out.u8(lengths).real32(seconds).u8(ices).real32(kilograms);
    }

    static Output restore(StateReader in) {
        Output output = new Output();
        output.airs = in.u8();
        output.ambient = in.real32();
        output.waters = in.u8();
        output.water = in.real32();
        output.lengths = in.u8();
        output.seconds = in.real32();
        output.ices = in.u8();
        output.kilograms = in.real32();
        return output;
    }
}
