package dev.rimecast.analytics.score;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;

/**
 * Whether what is called 80 % likely is right in 80 of 100 cases. Judged on the first named cause of every fault that
 * was found and diagnosed; causes that can't be told apart count as one, and their probabilities together.
 *
 * @param brier mean squared distance of the stated probability from 1 where it was right and 0 where not (G. W. Brier,
 *     Monthly Weather Review 78 (1950), for two outcomes); empty without diagnoses
 */
public record Calibration(List<Bin> bins, OptionalDouble brier) {
    private static final double[] EDGES = {0, 0.3, 0.5, 0.7, 0.85, 1.0000001};

    /**
     * Diagnoses that were stated about equally probable.
     *
     * @param stated mean of what was stated
     * @param right how many were right
     */
    public record Bin(double from, double to, int diagnoses, double stated, int right) {}

    public Calibration {
        bins = List.copyOf(bins);
    }

    static Calibration of(List<FaultResult> faults, FittingConditions fitting) {
        List<FaultResult> judged =
                faults.stream().filter(f -> f.isFound() && !f.named().isEmpty()).toList();
        List<Bin> bins = new ArrayList<>();
        for (int i = 1; i < EDGES.length; i++) {
            bins.add(bin(judged, fitting, EDGES[i - 1], EDGES[i]));
        }
        OptionalDouble brier = judged.stream()
                .mapToDouble(f -> {
                    double miss = Named.stated(f, fitting) - (Named.isRight(f, fitting) ? 1 : 0);
                    return miss * miss;
                })
                .average();
        return new Calibration(bins, brier);
    }

    private static Bin bin(List<FaultResult> judged, FittingConditions fitting, double from, double to) {
        int count = 0;
        int right = 0;
        double sum = 0;
        for (FaultResult fault : judged) {
            double stated = Named.stated(fault, fitting);
            if (stated >= from && stated < to) {
                count++;
                sum += stated;
                right += Named.isRight(fault, fitting) ? 1 : 0;
            }
        }
        return new Bin(from, Math.min(1, to), count, count == 0 ? 0 : sum / count, right);
    }
}
