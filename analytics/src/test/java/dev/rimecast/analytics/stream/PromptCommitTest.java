package dev.rimecast.analytics.stream;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;

class PromptCommitTest {
    private final AtomicLong now = new AtomicLong(Long.MAX_VALUE - 1_000_000);
    private final PromptCommit prompt = new PromptCommit(now::get);

    @Test
    void first_isDueAtOnce() {
        assertThat(prompt.isDue()).isTrue();
    }

    @Test
    void next_waitsForTheSpacing() {
        prompt.isDue();
        work(PromptCommit.SPACING.minusMillis(1));
        assertThat(prompt.isDue()).isFalse();
        work(Duration.ofMillis(1));
        assertThat(prompt.isDue()).isTrue();
    }

    @Test
    void slowCommit_leavesAsMuchTimeForRecords() {
        prompt.isDue();
        stand(Duration.ofMillis(1_300));
        assertThat(prompt.isDue()).isFalse();
        work(Duration.ofMillis(1_299));
        assertThat(prompt.isDue()).isFalse();
        work(Duration.ofMillis(1));
        assertThat(prompt.isDue()).isTrue();
    }

    @Test
    void findingLongAfterASlowCommit_isDueAtOnce() {
        prompt.isDue();
        stand(Duration.ofSeconds(3));
        work(Duration.ofSeconds(3));
        assertThat(prompt.isDue()).isTrue();
    }

    @Test
    void slowCommitOfBefore_doesNotCountAgain() {
        prompt.isDue();
        stand(Duration.ofSeconds(3));
        work(Duration.ofSeconds(3));
        prompt.isDue();
        work(PromptCommit.SPACING);
        assertThat(prompt.isDue()).isTrue();
    }

    /** A commit: nothing is given out meanwhile. */
    private void stand(Duration time) {
        now.addAndGet(time.toNanos());
        prompt.works();
    }

    private void work(Duration time) {
        for (long i = 0; i < time.toMillis(); i++) {
            now.addAndGet(1_000_000);
            prompt.works();
        }
    }
}
