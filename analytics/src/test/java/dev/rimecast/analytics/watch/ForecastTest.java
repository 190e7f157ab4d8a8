package dev.rimecast.analytics.watch;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.drift.Trend;
import dev.rimecast.telemetry.finding.Finding.LimitExpected;
import java.util.Optional;
import java.util.SplittableRandom;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Dates of limits, by Monte Carlo over drifts whose end is known. An 80 % interval holds the truth in 80 % of cases; with
 * independent days it is somewhat wide, with days that are half alike a little narrow.
 */
class ForecastTest {
    private static final double DAY_MILLIS = 86_400_000;
    private static final int RUNS = 4000;
    private static final double HORIZON_DAYS = 120;

    /** How many dates there were, and how many of their intervals held the truth. */
    private record Coverage(int dated, int held) {
        double share() {
            return (double) held / dated;
        }
    }

    /**
     * Residuals that rise evenly by one a day, with noise whose neighbours share {@code shared} of it.
     *
     * @param days for which the drift has been seen
     * @param noise standard deviation of a day's value, in days of drift
     */
    private static Coverage coverage(int days, double noise, double shared, long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        int dated = 0;
        int held = 0;
        for (int run = 0; run < RUNS; run++) {
            double[] x = new double[days];
            double[] y = new double[days];
            double error = random.nextGaussian();
            for (int i = 0; i < days; i++) {
                x[i] = i;
                y[i] = i + noise * error;
                error = shared * error + Math.sqrt(1 - shared * shared) * random.nextGaussian();
            }
            double limit = days - 1 + random.nextDouble(2, 60);
            // The value of day i stands for its noon; now is the end of the last day.
            double now = days;
            double level = now - 0.5 + noise * error;
            Optional<LimitExpected> date = Forecast.of(
                    Trend.of(x, y, days, Forecast.CONFIDENCE),
                    level,
                    limit,
                    limit,
                    Math.round(now * DAY_MILLIS),
                    HORIZON_DAYS);
            if (date.isPresent()) {
                dated++;
                double early = date.get().early().toEpochMilli() / DAY_MILLIS;
                double late = date.get().late().toEpochMilli() / DAY_MILLIS;
                double reached = limit + 0.5;
                held += early <= reached && reached <= late ? 1 : 0;
            }
        }
        return new Coverage(dated, held);
    }

    @ParameterizedTest
    @CsvSource({"6, 0.5, 0", "10, 1, 0", "14, 2, 0", "10, 1, 0.3", "14, 2, 0.5"})
    void interval_holdsTheTruthInAboutEightyPercent(int days, double noise, double shared) {
        Coverage coverage = coverage(days, noise, shared, 17);
        assertThat(coverage.dated()).isGreaterThan(RUNS / 10);
        assertThat(coverage.share()).isBetween(0.75, 0.92);
    }
}
