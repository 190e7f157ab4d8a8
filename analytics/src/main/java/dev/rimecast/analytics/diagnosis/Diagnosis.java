package dev.rimecast.analytics.diagnosis;

import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * Probabilities of causes, by naive Bayes in log-odds.
 *
 * <p>For each cause the severity is sought at which its line of the matrix fits the residuals best; each feature then adds
 * {@code -(ν+1)/2 ln(1 + z²/ν)}, the log density of Student's t with ν = 4 up to a constant: near the Gaussian for small z,
 * and forgiving where one feature doesn't fit. z is the misfit over the root of the noise of the median, of what the matrix
 * leaves out, and of a third of the change itself, since machines differ. How the change came and whether
 * work went before it add or take a fixed amount. A hypothesis that is in no line, with a fixed poor fit, takes what
 * nothing explains: then all probabilities are low.
 *
 * <p>Features of one machine are not independent given a cause, as naive Bayes has it; the t density and the floor on the
 * noise keep it from being as sure of itself as that would make it. Only causes that would change what is to be explained,
 * and in its direction, are asked.
 */
public final class Diagnosis {
    private static final double DEGREES = 4;
    private static final double SHARE_OF_CHANGE = 0.33;

    private static final double COURSE_FITS = 0.5;
    private static final double COURSE_CONTRADICTS = -1.5;
    /** Scale grows layer by layer: it doesn't come whole between two cycles, as a bag before a grille does. */
    private static final double GREAT_STEP_CONTRADICTS = -3;

    private static final double GREAT_STEP_SHARE = 2;
    private static final double SIGNALS_FIT = 1;
    private static final double SIGNALS_CONTRADICT = -1.2;
    private static final double WORK_FITS = 1.5;
    /** Visits are rarer than cleanings, so one just before says more. */
    private static final double VISIT_FITS = 2.2;

    private static final double WORK_MISSING = -1.2;
    /** A change against the direction that a cause gives it is no matter of degree. */
    private static final double WRONG_DIRECTION = -2;

    private static final double UNKNOWN_WEIGHT = 1;
    private static final double UNKNOWN_MISFIT = 2.2;
    private static final double LEAST_CHANGE = 0.03;
    /** What an answer can still bring forward is kept, though it is not shown. */
    private static final double LEAST_KEPT = 0.005;

    private static final int MOST_KEPT = 8;

    /** Every cleaning takes something away; one of many leaves anything wrong [common practice]. */
    private static final double TAKEN_AWAY_WEIGHT = 20;

    private static final Feature[] FEATURES = Feature.values();
    private static final List<Sizes> LINES =
            SymptomMatrix.LINES.stream().map(Sizes::new).toList();
    /** The same without their worst. */
    private static final List<Sizes> MILD =
            SymptomMatrix.LINES.stream().map(line -> new Sizes(line.mild())).toList();

    private Diagnosis() {}

    /**
     * Whether what is seen is better explained by a cause that was there all the time and has been taken away, as scale by a cleaning, than
     * by any that has come: then every feature has changed the other way. Only mild sizes of the cause are asked: what a cleaning takes away
     * has built up since the one before.
     */
    public static boolean isTakenAway(Cause cause, Observed observed) {
        Observed other = observed.reversed();
        List<Seen> seen = inOrder(other);
        double away = Double.NEGATIVE_INFINITY;
        for (int i = 0; i < LINES.size(); i++) {
            Symptoms line = LINES.get(i).line();
            boolean mayHave = line.cause() == cause && line.mayHold(other.freezeEndsBy(), other.fillEndsBy());
            if (mayHave && explains(LINES.get(i), other)) {
                away = StrictMath.max(
                        away,
                        fit(MILD.get(i), seen, other, StrictMath.log(TAKEN_AWAY_WEIGHT))
                                .logOdds());
            }
        }
        List<Seen> asSeen = inOrder(observed);
        double come = unknown(asSeen);
        for (Scored scored : best(asSeen, observed).values()) {
            come = StrictMath.max(come, scored.logOdds());
        }
        return away > come;
    }

    /** The causes that are worth keeping, most probable first, each with its evidence; empty where no feature can be judged. */
    public static List<ProbableCause> of(Observed observed) {
        return of(observed, true);
    }

    /** @param inWords whether the evidence is asked for: it costs more than all the rest */
    public static List<ProbableCause> of(Observed observed, boolean inWords) {
        List<Seen> seen = inOrder(observed);
        List<Scored> scored = List.copyOf(best(seen, observed).values());
        double[] logOdds = new double[scored.size() + 1];
        for (int i = 0; i < scored.size(); i++) {
            logOdds[i] = scored.get(i).logOdds();
        }
        logOdds[scored.size()] = unknown(seen);
        double[] probabilities = Posterior.of(logOdds);
        List<Known> known = new ArrayList<>();
        for (int i = 0; i < scored.size(); i++) {
            if (probabilities[i] >= LEAST_KEPT) {
                known.add(new Known(scored.get(i), probabilities[i]));
            }
        }
        known.sort(Comparator.comparingDouble(Known::probability)
                .reversed()
                .thenComparing(each -> each.scored().line().cause()));
        return known.stream()
                .limit(MOST_KEPT)
                .map(each -> inWords
                        ? Evidence.inWords(each.scored(), each.probability(), observed)
                        : new ProbableCause(each.scored().line().cause(), each.probability(), List.of(), List.of()))
                .toList();
    }

    /** Each cause that may hold, at its line that fits best. */
    private static Map<Cause, Scored> best(List<Seen> seen, Observed observed) {
        Map<Cause, Scored> best = new EnumMap<>(Cause.class);
        for (Sizes sizes : LINES) {
            Symptoms line = sizes.line();
            if (explains(sizes, observed)
                    && !observed.ruledOut().contains(line.cause())
                    && line.mayHold(observed.freezeEndsBy(), observed.fillEndsBy())) {
                best.merge(line.cause(), score(sizes, seen, observed), (a, b) -> b.logOdds() > a.logOdds() ? b : a);
            }
        }
        return best;
    }

    private record Known(Scored scored, double probability) {}

    /** A line at the severity that fits best. */
    record Scored(Symptoms line, int point, double share, double logOdds) {
        double change(Feature feature) {
            return line.change(feature, point, share);
        }
    }

    /**
     * A feature as it is seen, with what every line asks of it.
     *
     * @param variance of the noise of the median and of what the matrix leaves out
     * @param unmoved fit of a cause that does not move it
     * @param unused the same for one whose change can't be told for this control: as likely to be explained as not
     */
    private record Seen(Feature feature, Observed.Level level, double variance, double unmoved, double unused) {
        static Seen of(Feature feature, Observed.Level level) {
            double variance = level.error() * level.error() + level.matrixError() * level.matrixError();
            double unmoved = fit(level, variance, 0);
            return new Seen(feature, level, variance, unmoved, StrictMath.log((1 + StrictMath.exp(unmoved)) / 2));
        }

        double fit(double change) {
            return change == 0 ? unmoved : fit(level, variance, change);
        }

        private static double fit(Observed.Level level, double variance, double change) {
            double ofChange = SHARE_OF_CHANGE * change;
            double misfit = level.residual() - change;
            double fit =
                    -(DEGREES + 1) / 2 * StrictMath.log1p(misfit * misfit / (variance + ofChange * ofChange) / DEGREES);
            return isOpposite(level, change) ? fit + WRONG_DIRECTION : fit;
        }
    }

    private static boolean explains(Sizes sizes, Observed observed) {
        return sizes.moves(observed.about(), observed.upward(), LEAST_CHANGE);
    }

    private static Scored score(Sizes sizes, List<Seen> seen, Observed observed) {
        Symptoms line = sizes.line();
        double prior =
                sizes.logWeight() + courseOdds(line, observed) + workOdds(line, observed) + drainOdds(line, observed);
        return fit(sizes, seen, observed, prior);
    }

    /** No feature adds anything but what is below 0, so what has fallen below the best so far needs no further ones. */
    private static Scored fit(Sizes sizes, List<Seen> seen, Observed observed, double prior) {
        Symptoms line = sizes.line();
        boolean[] isUsed = new boolean[seen.size()];
        for (int i = 0; i < isUsed.length; i++) {
            isUsed[i] = isUsed(line, seen.get(i).feature(), observed);
        }
        Sizes.Size best = sizes.all().get(0);
        double most = Double.NEGATIVE_INFINITY;
        for (Sizes.Size size : sizes.all()) {
            double logOdds = prior;
            for (int i = 0; i < isUsed.length && logOdds > most; i++) {
                Seen each = seen.get(i);
                logOdds += isUsed[i] ? each.fit(size.change(each.feature())) : each.unused();
            }
            if (logOdds > most) {
                most = logOdds;
                best = size;
            }
        }
        return new Scored(line, best.point(), best.share(), most);
    }

    /** In the order of the features, so that sums are the same every time. */
    private static List<Seen> inOrder(Observed observed) {
        List<Seen> seen = new ArrayList<>();
        for (Feature feature : FEATURES) {
            Observed.Level level = observed.features().get(feature);
            if (level != null) {
                seen.add(Seen.of(feature, level));
            }
        }
        return seen;
    }

    /** Whether the sign of the feature holds for this machine's kind of control. */
    static boolean isUsed(Symptoms line, Feature feature, Observed observed) {
        return observed.freezeEndsBy().isPresent()
                || !SymptomMatrix.DISPUTED.getOrDefault(line.cause(), Set.of()).contains(feature);
    }

    private static boolean isOpposite(Observed.Level level, double change) {
        return level.residual() * change < 0
                && StrictMath.abs(level.residual()) >= level.material()
                && StrictMath.abs(change) >= level.material();
    }

    private static double unknown(List<Seen> seen) {
        double logOdds = StrictMath.log(UNKNOWN_WEIGHT);
        for (Seen each : seen) {
            logOdds += StrictMath.max(each.unmoved(), -UNKNOWN_MISFIT);
        }
        return logOdds;
    }

    private static double courseOdds(Symptoms line, Observed observed) {
        if (observed.course() == Course.EITHER || line.course() == Course.EITHER) {
            return 0;
        }
        if (line.course() == observed.course()) {
            return COURSE_FITS;
        }
        return line.cause() == Cause.SCALE && observed.course() == Course.STEP && isGreat(observed)
                ? GREAT_STEP_CONTRADICTS
                : COURSE_CONTRADICTS;
    }

    /** The larger a step is, the less it can be a slow change that was taken for one. */
    private static boolean isGreat(Observed observed) {
        Observed.Level about = observed.features().get(observed.about());
        return about != null && StrictMath.abs(about.residual()) >= GREAT_STEP_SHARE * about.material();
    }

    private static double drainOdds(Symptoms line, Observed observed) {
        if (observed.drainSignals() == DrainSignals.EITHER || line.drainSignals() == DrainSignals.EITHER) {
            return 0;
        }
        return line.drainSignals() == observed.drainSignals() ? SIGNALS_FIT : SIGNALS_CONTRADICT;
    }

    private static double workOdds(Symptoms line, Observed observed) {
        if (line.afterVisit()) {
            return observed.isAfterVisit() ? VISIT_FITS : WORK_MISSING;
        }
        if (!line.afterWork()) {
            return 0;
        }
        return observed.isAfterWork() ? WORK_FITS : WORK_MISSING;
    }
}
