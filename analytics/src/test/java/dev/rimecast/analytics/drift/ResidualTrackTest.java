package dev.rimecast.analytics.drift;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.expect.Expected;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.HashSet;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Monte Carlo with fixed seeds; noise of a cycle is 1 on the scale. */
class ResidualTrackTest {
    private static final GroupPolicy POLICY = Policy.standard().forGroup(Optional.empty());
    private static final long CYCLE_MILLIS = 30 * 60_000;
    private static final int CYCLES_A_DAY = 48;

    /** A part of the residual that neighbouring cycles share, and noise of each. */
    private static final class Residuals {
        private static final double KEEP = 0.97;
        private final Random random;
        private final double slowShare;
        private double slow;

        Residuals(long seed, double slowShare) {
            random = new Random(seed);
            this.slowShare = slowShare;
        }

        double next() {
            slow = KEEP * slow + Math.sqrt(1 - KEEP * KEEP) * random.nextGaussian();
            return slowShare * slow + Math.sqrt(1 - slowShare * slowShare) * random.nextGaussian();
        }
    }

    private static void add(ResidualTrack track, double residual, int cycle) {
        track.add(residual, new Expected(0, 1, 0.05, 0), true, cycle * CYCLE_MILLIS, POLICY);
    }

    /** Alarms of one feature in 40 healthy years, before it is asked whether the change is worth a finding. */
    private static int alarmsInFortyYears(double slowShare) {
        int alarms = 0;
        for (int seed = 0; seed < 40; seed++) {
            Residuals residuals = new Residuals(seed, slowShare);
            ResidualTrack track = new ResidualTrack(POLICY);
            for (int cycle = 0; cycle < 365 * CYCLES_A_DAY; cycle++) {
                add(track, residuals.next(), cycle);
                if (track.isAlarm(true, POLICY) || track.isAlarm(false, POLICY)) {
                    alarms++;
                    track.reset();
                }
            }
        }
        return alarms;
    }

    /** The policy allows 0.1 a year for ten features together: 0.4 for one in 40 years. Poisson: more than 2 in 1 of 70 runs. */
    @Test
    void track_independentResidualsOfHealthyYears_alarmAsSeldomAsAsked() {
        assertThat(alarmsInFortyYears(0)).isLessThanOrEqualTo(2);
    }

    /** Alarms of one feature in 60 years of a policy that allows 20 a year and machine: 120. */
    private static int alarmsWhereManyAreAllowed(double slowShare) {
        GroupPolicy often = Policy.parse("""
                version: often
                all:
                  change: {false_alarms_per_machine_year: 20}
                """).forGroup(Optional.empty());
        int alarms = 0;
        for (int seed = 0; seed < 60; seed++) {
            Residuals residuals = new Residuals(1000 + seed, slowShare);
            ResidualTrack track = new ResidualTrack(often);
            for (int cycle = 0; cycle < 365 * CYCLES_A_DAY; cycle++) {
                track.add(residuals.next(), new Expected(0, 1, 0.05, 0), true, cycle * CYCLE_MILLIS, often);
                if (track.isAlarm(true, often) || track.isAlarm(false, often)) {
                    alarms++;
                    track.reset();
                }
            }
        }
        return alarms;
    }

    /**
     * The rate itself, where it is set so high that there is something to count. Independent residuals alarm less often, since
     * what is put on top of the variance is for correlated ones. Beyond a share of 0.7 the rate is not kept: there it is left to
     * the least change that is worth a finding.
     */
    @ParameterizedTest
    @CsvSource({"0", "0.3", "0.6", "0.7"})
    void track_whereManyAlarmsAreAllowed_raisesNoMore(double slowShare) {
        int threeErrors = (int) (3 * Math.sqrt(120));

        assertThat(alarmsWhereManyAreAllowed(slowShare)).isLessThanOrEqualTo(120 + threeErrors);
    }

    /** Much that neighbours share is more than the limits are computed for; it must stay within a factor of ten. */
    @Test
    void track_correlatedResidualsOfHealthyYears_alarmSeldom() {
        assertThat(alarmsInFortyYears(0.6)).isLessThanOrEqualTo(4);
    }

    @Test
    void track_slowDrift_alarmsWithinDaysAndDatesIt() {
        for (int seed = 0; seed < 20; seed++) {
            Residuals residuals = new Residuals(100 + seed, 0.6);
            ResidualTrack track = new ResidualTrack(POLICY);
            int begin = 20 * CYCLES_A_DAY;
            int cycle = 0;
            while (!track.isAlarm(true, POLICY) && cycle < begin + 30 * CYCLES_A_DAY) {
                double drift = Math.max(0, cycle - begin) * 0.3 / CYCLES_A_DAY;
                add(track, residuals.next() + drift, cycle++);
            }

            assertThat((cycle - begin) / (double) CYCLES_A_DAY)
                    .as("days at 0.3 sigma a day, seed %d", seed)
                    .isBetween(0.0, 16.0);
            assertThat(track.changeBeganMillis(true, POLICY) / CYCLE_MILLIS)
                    .as("dated change, seed %d", seed)
                    .isBetween(begin - 4L * CYCLES_A_DAY, (long) cycle);
        }
    }

    @Test
    void track_step_alarmsWithinFiveCycles() {
        for (int seed = 0; seed < 20; seed++) {
            Residuals residuals = new Residuals(200 + seed, 0.6);
            ResidualTrack track = new ResidualTrack(POLICY);
            int cycle = 0;
            for (; cycle < 200; cycle++) {
                add(track, residuals.next(), cycle);
            }
            assertThat(track.isAlarm(true, POLICY)).isFalse();
            int step = cycle;
            while (!track.isAlarm(true, POLICY)) {
                add(track, residuals.next() + 7, cycle++);
            }

            assertThat(cycle - step).as("cycles, seed %d", seed).isBetween(3, 5);
        }
    }

    @Test
    void track_oneWildValue_isNoAlarm() {
        ResidualTrack track = new ResidualTrack(POLICY);
        for (int cycle = 0; cycle < 200; cycle++) {
            add(track, cycle == 150 ? 1000 : 0, cycle);
            assertThat(track.isAlarm(true, POLICY)).isFalse();
        }
    }

    @Test
    void track_doubtfulExpectation_showsNoStep() {
        ResidualTrack track = new ResidualTrack(POLICY);
        for (int cycle = 0; cycle < 20; cycle++) {
            track.add(5, new Expected(0, 1, 6, 0), true, cycle * CYCLE_MILLIS, POLICY);
        }

        assertThat(track.isStepAlarm(true, POLICY)).isFalse();
    }

    @Test
    void track_restoredAfterEveryValue_decidesTheSame() {
        Residuals residuals = new Residuals(7, 0.6);
        ResidualTrack plain = new ResidualTrack(POLICY);
        ResidualTrack restored = new ResidualTrack(POLICY);
        for (int cycle = 0; cycle < 3000; cycle++) {
            double residual = residuals.next() + (cycle > 2000 ? 1.5 : 0);
            add(plain, residual, cycle);
            add(restored, residual, cycle);
            StateWriter out = new StateWriter();
            restored.save(out);
            restored = ResidualTrack.restore(new StateReader(out.toBytes()), POLICY);

            assertThat(restored.isAlarm(true, POLICY)).isEqualTo(plain.isAlarm(true, POLICY));
            assertThat(restored.recent(6)).isEqualTo(plain.recent(6));
        }
        assertThat(plain.isAlarm(true, POLICY)).isTrue();
        assertThat(restored.trend(0, 0.8, r -> r)).isEqualTo(plain.trend(0, 0.8, r -> r));
    }

    /** A restored one remembers no trend, so that it has to find each anew. */
    @Test
    void trend_askedForWithEveryCycle_isTheOneOfTheDaysThen() {
        Residuals residuals = new Residuals(11, 0.6);
        ResidualTrack asked = new ResidualTrack(POLICY);
        Set<Trend> different = new HashSet<>();
        for (int cycle = 0; cycle < 20 * CYCLES_A_DAY; cycle++) {
            add(asked, residuals.next() + cycle / 200.0, cycle);
            double grown = 1 + cycle % 3;
            long since = cycle % 7 == 0 ? 5 * ResidualTrack.DAY_MILLIS : 0;
            StateWriter out = new StateWriter();
            asked.save(out);
            ResidualTrack anew = ResidualTrack.restore(new StateReader(out.toBytes()), POLICY);

            assertThat(asked.trend(since, 0.8, r -> r)).isEqualTo(anew.trend(since, 0.8, r -> r));
            Trend other = asked.trend(since, 0.8, r -> r / grown);
            assertThat(other).isEqualTo(anew.trend(since, 0.8, r -> r / grown));
            assertThat(asked.trend(since, 0.5, r -> r)).isEqualTo(anew.trend(since, 0.5, r -> r));
            different.add(other);
        }
        assertThat(different).hasSizeGreaterThan(40);
    }
}
