package dev.rimecast.ingest.broker;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.ingest.broker.Allowances.Verdict;
import dev.rimecast.telemetry.log.PackNumber;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;

/** What one gateway may bring through a broker (OWASP ASVS 5.0, 2.4.1); the numbers are ours. */
class AllowancesTest {
    private static final Optional<String> GATEWAY = Optional.of("gw-1");
    private static final Optional<PackNumber> NONE = Optional.empty();

    private final AtomicLong nanos = new AtomicLong();
    private final Allowances allowances =
            new Allowances(new BrokerLimits(10, 100), name -> Optional.empty(), nanos::get);

    private List<Verdict> judged(int times) {
        List<Verdict> all = new ArrayList<>();
        for (int i = 0; i < times; i++) {
            all.add(allowances.judge(GATEWAY, NONE, 1_000));
        }
        return all;
    }

    private void pass(Duration time) {
        nanos.addAndGet(time.toNanos());
    }

    @Test
    void backlog_isTakenAtOnce_thenRejectsAreKept_andThenNothingIs() {
        List<Verdict> all = judged(100 + Allowances.KEPT_REJECTS + 50);

        assertThat(all.subList(0, 100)).containsOnly(Verdict.TAKE);
        assertThat(all.subList(100, 100 + Allowances.KEPT_REJECTS)).containsOnly(Verdict.REJECT);
        assertThat(all.subList(100 + Allowances.KEPT_REJECTS, all.size())).containsOnly(Verdict.LET_GO);
    }

    @Test
    void afterASecond_tenMoreAreTaken() {
        judged(100 + Allowances.KEPT_REJECTS);
        pass(Duration.ofSeconds(1));

        assertThat(judged(11).subList(0, 10)).containsOnly(Verdict.TAKE);
    }

    @Test
    void atTheRateThatItMay_nothingIsEverRejected() {
        judged(100);
        for (int second = 0; second < 3_600; second++) {
            pass(Duration.ofSeconds(1));
            assertThat(judged(10)).as("second %d", second).containsOnly(Verdict.TAKE);
        }
    }

    @Test
    void longRest_allowsNoMoreThanTheBacklog() {
        pass(Duration.ofDays(30));

        assertThat(judged(101)).isEqualTo(all(100, Verdict.TAKE, Verdict.REJECT));
    }

    private static List<Verdict> all(int times, Verdict verdict, Verdict last) {
        List<Verdict> all = new ArrayList<>(Collections.nCopies(times, verdict));
        all.add(last);
        return all;
    }

    /** 256 KiB, the most that a pack may have, is 16 times 16 KiB. */
    @Test
    void largePack_countsOnceForEach16KiB() {
        for (int i = 0; i < 6; i++) {
            assertThat(allowances.judge(GATEWAY, NONE, 256 * 1024)).isEqualTo(Verdict.TAKE);
        }
        assertThat(allowances.judge(GATEWAY, NONE, 256 * 1024)).isEqualTo(Verdict.REJECT);
        assertThat(allowances.judge(GATEWAY, NONE, 4 * 16 * 1024)).isEqualTo(Verdict.TAKE);
        assertThat(allowances.judge(GATEWAY, NONE, 0)).isEqualTo(Verdict.REJECT);
    }

    @Test
    void largestPack_isTakenByTheSmallestLimitThatMayBeSet() {
        Allowances least =
                new Allowances(new BrokerLimits(1, BrokerLimits.LEAST_BACKLOG), name -> Optional.empty(), nanos::get);
        PackNumber number = new PackNumber("b1", 1);

        assertThat(least.judge(GATEWAY, Optional.of(number), 256 * 1024)).isEqualTo(Verdict.TAKE);
        assertThatThrownBy(() -> new BrokerLimits(1, BrokerLimits.LEAST_BACKLOG - 1))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("at least 16");
    }

    @Test
    void otherGateways_areNotTouched_andThoseInNoRegisterShareOne() {
        judged(2_000);

        assertThat(allowances.judge(Optional.of("gw-2"), NONE, 1)).isEqualTo(Verdict.TAKE);
        for (int i = 0; i < 100; i++) {
            assertThat(allowances.judge(Optional.empty(), NONE, 1)).isEqualTo(Verdict.TAKE);
        }
        assertThat(allowances.judge(Optional.empty(), NONE, 1)).isEqualTo(Verdict.REJECT);
    }

    @Test
    void withoutALimit_everythingIsTaken() {
        Allowances none = new Allowances(BrokerLimits.none(), name -> Optional.empty(), nanos::get);
        for (int i = 0; i < 10_000; i++) {
            assertThat(none.judge(GATEWAY, NONE, 256 * 1024)).isEqualTo(Verdict.TAKE);
        }
    }

    @Test
    void gatewayThatSendsNothingAgain_isShutOutNoLongerThanAQuarterOfAnHour() {
        int number = 0;
        Verdict last = Verdict.TAKE;
        while (last == Verdict.TAKE) {
            last = numbered("b1", ++number);
        }
        assertThat(last).isEqualTo(Verdict.LET_GO);
        pass(Duration.ofMinutes(14));
        assertThat(numbered("b1", number + 2_000)).isEqualTo(Verdict.LET_GO);
        pass(Duration.ofMinutes(2));
        assertThat(numbered("b1", number + 2_001)).isEqualTo(Verdict.TAKE);
    }

    @Test
    void otherBoot_isAnotherCount() {
        int number = 0;
        while (numbered("b1", ++number) == Verdict.TAKE) {
            assertThat(number).isLessThan(200);
        }
        pass(Duration.ofSeconds(1));

        assertThat(numbered("b2", number + 5_000)).isEqualTo(Verdict.TAKE);
    }

    private Verdict numbered(String boot, int number) {
        return allowances.judge(GATEWAY, Optional.of(new PackNumber(boot, number)), 100);
    }
}
