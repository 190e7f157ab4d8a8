package dev.rimecast.analytics.drift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.analytics.expect.Expected;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;

class QuietDaysTest {
    private static final GroupPolicy POLICY = Policy.standard().forGroup(Optional.empty());
    private static final double NOISE = 0.03;
    private static final double CLAIMED = 0.04;
    private static final long CYCLE_MILLIS = 30 * 60_000L;

    private final Random random = new Random(17);
    private final ResidualTrack track = new ResidualTrack(POLICY);
    private long now = 1_777_800_000_000L;
    private boolean isPlaceMeasured = true;
    private double prolonged;

    private Expected expected() {
        return new Expected(0, NOISE * NOISE, CLAIMED * CLAIMED, prolonged);
    }

    /** @param growthPerDay what is added a day, from 0 */
    private void days(int days, double growthPerDay) {
        long began = now;
        while (now < began + days * ResidualTrack.DAY_MILLIS) {
            double grown = growthPerDay * (now - began) / ResidualTrack.DAY_MILLIS;
            double residual = grown + NOISE * random.nextGaussian();
            track.add(residual, expected(), isPlaceMeasured, now, POLICY);
            now += CYCLE_MILLIS;
        }
    }

    @Test
    void firstDays_nothingIsKnownOfItself() {
        days(3, 0);
        assertThat(track.ownScatter()).isInfinite();
        assertThat(track.provenUnsure()).isGreaterThan(0.7 * CLAIMED);
    }

    /** Four cycles to a block, six blocks to a day: their median is worth some 1.25 times a mean of 24, and half is on top. */
    @Test
    void weeksWithoutAnything_showHowCalmItIs() {
        days(40, 0);

        assertThat(track.ownScatter()).isCloseTo(1.25 * NOISE / Math.sqrt(24) * Math.sqrt(2), within(0.004));
        assertThat(track.provenUnsure()).as("claimed %s", CLAIMED).isBetween(0.2 * CLAIMED, 0.5 * CLAIMED);
    }

    /** Spring shows how right it is in spring; of the first heat it knows what its slopes say, which are not straight. */
    @Test
    void conditionsThatWereNotLearned_areProvenByHalfAtMost() {
        days(40, 0);
        double spring = track.provenUnsure();
        prolonged = CLAIMED * CLAIMED;
        days(1, 0);

        assertThat(spring).isLessThan(0.4 * CLAIMED);
        assertThat(track.provenUnsure()).isBetween(0.499 * CLAIMED, 0.6 * CLAIMED);
        StateWriter out = new StateWriter();
        track.save(out);
        assertThat(ResidualTrack.restore(new StateReader(out.toBytes()), POLICY).provenUnsure())
                .isEqualTo(track.provenUnsure());
    }

    /** Water that goes by the calendar is wrong for a season, not for a day: weeks show nothing of that. */
    @Test
    void placeThatIsOnlyEstimated_isNeverTrustedMore() {
        isPlaceMeasured = false;
        days(40, 0);
        assertThat(track.ownScatter()).isInfinite();
        assertThat(track.provenUnsure()).isCloseTo(CLAIMED, within(1e-6));
    }

    @Test
    void faultThatGrows_isNoRestlessness() {
        days(40, 0);
        double calm = track.ownScatter();
        double unsure = track.provenUnsure();

        days(30, 0.005);

        assertThat(track.sumShare(true, POLICY)).as("it is seen").isGreaterThanOrEqualTo(1);
        assertThat(track.ownScatter()).isCloseTo(calm, within(0.15 * calm));
        assertThat(track.provenUnsure()).isCloseTo(unsure, within(0.3 * unsure));
    }

    @Test
    void expectationThatIsAsWrongAsItSays_isNotTrustedMore() {
        for (int week = 0; week < 20; week++) {
            double off = (week % 2 == 0 ? 1 : -1) * CLAIMED;
            for (int i = 0; i < 2; i++) {
                long began = now;
                while (now < began + ResidualTrack.DAY_MILLIS) {
                    track.add(off + NOISE * random.nextGaussian(), expected(), isPlaceMeasured, now, POLICY);
                    now += CYCLE_MILLIS;
                }
            }
        }
        assertThat(track.provenUnsure()).isGreaterThan(0.6 * CLAIMED);
    }

    @Test
    void savedAndRestored_isTheSame() {
        days(20, 0);
        StateWriter out = new StateWriter();
        track.save(out);

        ResidualTrack restored = ResidualTrack.restore(new StateReader(out.toBytes()), POLICY);

        assertThat(restored.ownScatter()).isEqualTo(track.ownScatter());
        assertThat(restored.provenUnsure()).isEqualTo(track.provenUnsure());
    }
}
