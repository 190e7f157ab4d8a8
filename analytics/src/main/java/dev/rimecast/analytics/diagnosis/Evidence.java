package dev.rimecast.analytics.diagnosis;

import dev.rimecast.analytics.expect.FeatureScale;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** What speaks for a cause and against it, in sentences. */
public final class Evidence {
    private Evidence() {}

    static ProbableCause inWords(Diagnosis.Scored scored, double probability, Observed observed) {
        List<String> inFavour = new ArrayList<>();
        List<String> against = new ArrayList<>();
        for (Feature feature : Feature.values()) {
            Observed.Level level = observed.features().get(feature);
            if (level == null || !Diagnosis.isUsed(scored.line(), feature, observed)) {
                continue;
            }
            int seen = sign(level.residual(), level.material());
            int wanted = sign(scored.change(feature), level.material());
            if (wanted != 0 && seen == wanted) {
                inFavour.add(sentence(feature, level.residual()));
            } else if (wanted != 0) {
                against.add(sentence(feature, level.residual()) + " It should be " + direction(feature, wanted) + ".");
            } else if (seen != 0) {
                against.add(sentence(feature, level.residual()) + " This cause would not change it.");
            }
        }
        courseInWords(scored.line(), observed, inFavour, against);
        return new ProbableCause(scored.line().cause(), probability, inFavour, against);
    }

    private static void courseInWords(Symptoms line, Observed observed, List<String> inFavour, List<String> against) {
        if (observed.course() != Course.EITHER && line.course() != Course.EITHER) {
            String seen =
                    observed.course() == Course.DRIFT ? "The change has grown over days." : "The change came at once.";
            (line.course() == observed.course() ? inFavour : against).add(seen);
        }
        if (observed.drainSignals() != DrainSignals.EITHER && line.drainSignals() != DrainSignals.EITHER) {
            String seen = observed.drainSignals() == DrainSignals.EVEN
                    ? "Drain level signals are long alike."
                    : "Drain level signals differ far more from cycle to cycle than they used to.";
            (line.drainSignals() == observed.drainSignals() ? inFavour : against).add(seen);
        }
        if (line.afterVisit()) {
            (observed.isAfterVisit() ? inFavour : against)
                    .add(
                            observed.isAfterVisit()
                                    ? "It began within days of an engineer's visit."
                                    : "No engineer is known to have worked on the machine in the days before.");
        } else if (line.afterWork() && observed.isAfterWork()) {
            inFavour.add("It began within days of work on the machine.");
        } else if (line.afterWork()) {
            against.add("No work on the machine is known from the days before.");
        }
    }

    private static int sign(double change, double material) {
        return StrictMath.abs(change) < material / 2 ? 0 : (int) StrictMath.signum(change);
    }

    /** For example "Freeze is 14 % longer than it should be." */
    public static String sentence(Feature feature, double residual) {
        String name = name(feature);
        if (FeatureScale.isRatio(feature)) {
            double percent = 100 * StrictMath.expm1(residual);
            if (StrictMath.abs(percent) < 1) {
                return name + " is as it should be.";
            }
            return String.format(
                    Locale.ROOT,
                    "%s is %.0f %% %s than it should be.",
                    name,
                    StrictMath.abs(percent),
                    direction(feature, percent));
        }
        if (StrictMath.abs(residual) < 0.1) {
            return name + " is as it should be.";
        }
        return String.format(
                Locale.ROOT,
                "%s is %.1f K %s than it should be.",
                name,
                StrictMath.abs(residual),
                residual > 0 ? "higher" : "lower");
    }

    private static boolean isAmount(Feature feature) {
        return feature == Feature.WATER_USE || feature == Feature.ICE_MADE;
    }

    private static String direction(Feature feature, double sign) {
        if (FeatureScale.isRatio(feature)) {
            return isAmount(feature) ? (sign > 0 ? "more" : "less") : sign > 0 ? "longer" : "shorter";
        }
        return sign > 0 ? "higher" : "lower";
    }

    private static String name(Feature feature) {
        return switch (feature) {
            case PULL_DOWN -> "Pull-down";
            case FREEZE -> "Freeze";
            case HARVEST -> "Harvest";
            case SPLIT -> "Condensing temperature over ambient";
            case EVAPORATOR_END -> "Lowest evaporator temperature";
            case DRAIN_LEVEL -> "Drain level signal";
            case DRAIN_RUN -> "Drain pump run";
            case FILL -> "Water fill";
            case WATER_USE -> "Water used per cycle";
            case ICE_MADE -> "Ice made per cycle";
        };
    }
}
