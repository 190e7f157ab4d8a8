package dev.rimecast.ingest.broker;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.ingest.ack.LastAcks;
import dev.rimecast.ingest.broker.Allowances.Verdict;
import dev.rimecast.telemetry.ack.GatewayAck;
import dev.rimecast.telemetry.log.PackNumber;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;

/**
 * A gateway with a store of 5,000 packs that sends 200 each second, where ten may come: in the order of its numbers, and after 15 s again from the first that is
 * not covered. Analytics gives up what is missing when a pack comes more than 1,024 ahead, and acknowledges every five seconds (decisions 15 and 39): whatever
 * becomes of the instances of ingest, it must never have to.
 */
class SentAgainTest {
    private static final int PACKS = 5_000;
    private static final int SENT_A_SECOND = 200;
    private static final String GATEWAY = "gw-1";
    private static final String BOOT = "b1";

    private final AtomicLong nanos = new AtomicLong();
    private final LastAcks acks = new LastAcks();
    private final Analytics analytics = new Analytics();
    private final List<Allowances> instances = new ArrayList<>();
    private int letGo;

    /** What counts in front of it, by its own rule. */
    private static final class Analytics {
        private static final long AHEAD = 1_024;

        private final TreeSet<Long> ahead = new TreeSet<>();
        private long covered;
        private long givenUp;

        void take(long number) {
            if (number <= covered) {
                return;
            }
            ahead.add(number);
            while (number - covered > AHEAD) {
                covered++;
                if (!ahead.remove(covered)) {
                    givenUp++;
                }
            }
            while (ahead.remove(covered + 1)) {
                covered++;
            }
        }
    }

    private Allowances instance() {
        return new Allowances(new BrokerLimits(10, 100), acks::of, nanos::get);
    }

    private interface Bytes {
        int of(long number);
    }

    /**
     * @param restartedAt second in which the first instance is started anew; 0: never
     * @param isSwapped whether two neighbours of each second change places on their way
     */
    private void sendAll(int restartedAt, boolean isSwapped, Bytes bytes) {
        long next = 1;
        long messages = 0;
        for (int second = 1; analytics.covered < PACKS; second++) {
            assertThat(second).as("covered so far: %d", analytics.covered).isLessThan(3 * 3_600);
            if (second == restartedAt) {
                instances.set(0, instance());
            }
            for (int i = 0; i < SENT_A_SECOND && next <= PACKS; i++, next++) {
                long number = next;
                if (isSwapped && next < PACKS && i == SENT_A_SECOND / 2) {
                    number = next + 1;
                } else if (isSwapped && i == SENT_A_SECOND / 2 + 1) {
                    number = next - 1;
                }
                Allowances one = instances.get((int) (messages++ % instances.size()));
                if (one.judge(Optional.of(GATEWAY), Optional.of(new PackNumber(BOOT, number)), bytes.of(number))
                        == Verdict.TAKE) {
                    analytics.take(number);
                } else {
                    letGo++;
                }
            }
            if (second % 15 == 0) {
                next = analytics.covered + 1;
            }
            if (second % 5 == 0 && analytics.covered > 0) {
                acks.note(new GatewayAck(GATEWAY, new PackNumber(BOOT, analytics.covered), 0));
            }
            nanos.addAndGet(Duration.ofSeconds(1).toNanos());
        }
        assertThat(letGo).isGreaterThan(PACKS);
        assertThat(analytics.givenUp).as("acknowledged though nobody has them").isZero();
    }

    @Test
    void oneInstance_losesNothing() {
        instances.add(instance());

        sendAll(0, false, number -> 100);
    }

    @Test
    void oneInstance_thatIsStartedAnew_losesNothing() {
        instances.add(instance());

        sendAll(13, false, number -> 100);
    }

    @Test
    void neighboursThatChangePlaces_areNoGoingBack() {
        instances.add(instance());

        sendAll(0, true, number -> 100);
    }

    @Test
    void twoInstancesThatShareThePacks_loseNothing() {
        instances.add(instance());
        instances.add(instance());

        sendAll(0, false, number -> 100);
    }

    @Test
    void twoInstances_oneStartedAnew_loseNothing() {
        instances.add(instance());
        instances.add(instance());

        sendAll(13, false, number -> 100);
    }

    @Test
    void twoInstances_ofWhichOneHasThirteenTimesAsMuchToCount_loseNothing() {
        instances.add(instance());
        instances.add(instance());

        sendAll(0, false, number -> number % 2 == 0 ? 200 * 1_024 : 100);
    }

    /** After days without us the broker brings everything: nothing was let go, and the first follows what is covered. */
    @Test
    void backlogThatFollowsWhatIsCovered_isTakenWholeAfterAStart() {
        acks.note(new GatewayAck(GATEWAY, new PackNumber(BOOT, 700), 0));
        Allowances started = new Allowances(new BrokerLimits(10, 3_000), acks::of, nanos::get);

        for (long number = 701; number <= 3_700; number++) {
            assertThat(started.judge(Optional.of(GATEWAY), Optional.of(new PackNumber(BOOT, number)), 100))
                    .as("pack %d", number)
                    .isEqualTo(Verdict.TAKE);
        }
    }

    @Test
    void packFarAheadOfWhatIsCovered_afterAStart_waitsForThoseBefore() {
        acks.note(new GatewayAck(GATEWAY, new PackNumber(BOOT, 700), 0));
        Allowances started = instance();

        assertThat(judged(started, 1_701)).isEqualTo(Verdict.LET_GO);
        assertThat(judged(started, 1_700)).isEqualTo(Verdict.TAKE);
        assertThat(judged(started, 701)).isEqualTo(Verdict.TAKE);
        assertThat(judged(started, 1_701)).as("701 to 1700 may be missing").isEqualTo(Verdict.LET_GO);
        acks.note(new GatewayAck(GATEWAY, new PackNumber(BOOT, 1_701), 0));
        assertThat(judged(started, 9_000)).isEqualTo(Verdict.TAKE);
    }

    private static Verdict judged(Allowances by, long number) {
        return by.judge(Optional.of(GATEWAY), Optional.of(new PackNumber(BOOT, number)), 100);
    }
}
