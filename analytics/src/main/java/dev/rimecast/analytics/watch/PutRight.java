package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.expect.FeatureScale;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.cycle.Cycle.Residual;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.function.ToDoubleFunction;

/**
 * Whether something that the site says it has put right has brought the machine back: the next {@value #CYCLES} complete
 * cycles that begin afterwards and can be judged must each be nearer to what is expected than the least change that is worth a finding, in
 * every feature that the finding is about. One that is not ends the attempt; then the finding is over as any other. By
 * chance alone three cycles in a row are that good now and then while a change lasts that is hardly worth a finding, so the
 * watch asks for the median of the three besides, and a finding that ends too early is raised again by the same charts.
 */
final class PutRight {
    static final int CYCLES = 3;
    private static final long NONE = Long.MIN_VALUE;

    private long atMillis = NONE;
    private final Map<Sign, Integer> good = new EnumMap<>(Sign.class);

    /** The site says so, about whatever is open. */
    void said(long millis, List<Sign> open) {
        atMillis = millis;
        good.clear();
        open.forEach(sign -> good.put(sign, 0));
    }

    /** @param material least change of a sign's feature that is worth a finding, on the scale */
    void cycle(
            long freezeStartMillis,
            boolean isComplete,
            List<Residual> residuals,
            ToDoubleFunction<Sign.Change> material) {
        if (good.isEmpty() || !isComplete || freezeStartMillis < atMillis) {
            return;
        }
        for (Sign sign : List.copyOf(good.keySet())) {
            List<Boolean> inside = new ArrayList<>();
            for (Sign.Change change : sign.changes()) {
                residuals.stream()
                        .filter(residual -> residual.feature() == change.feature())
                        .map(residual -> change.sign() * offBy(residual) < material.applyAsDouble(change))
                        .forEach(inside::add);
            }
            if (inside.contains(false)) {
                good.remove(sign);
            } else if (!inside.isEmpty()) {
                good.merge(sign, 1, Integer::sum);
            }
        }
    }

    private static double offBy(Residual residual) {
        return FeatureScale.toScale(residual.feature(), residual.measured())
                - FeatureScale.toScale(residual.feature(), residual.expected());
    }

    /** Whether the cycles since then were as good as they must be. */
    boolean isProved(Sign sign) {
        return good.getOrDefault(sign, 0) >= CYCLES;
    }

    /** When it was said. */
    long atMillis() {
        return atMillis;
    }

    /** The sign's finding is over. */
    void over(Sign sign) {
        good.remove(sign);
    }

    void save(StateWriter out) {
        out.u8(good.size());
        if (!good.isEmpty()) {
            out.whole(atMillis);
            good.forEach((sign, cycles) -> out.u8(sign.ordinal()).u8(cycles));
        }
    }

    static PutRight restore(StateReader in) {
        PutRight putRight = new PutRight();
        int count = in.u8();
        if (count > 0) {
            putRight.atMillis = in.whole();
        }
        for (; count > 0; count--) {
            putRight.good.put(Sign.ALL.get(in.u8()), in.u8());
        }
        return putRight;
    }
}
