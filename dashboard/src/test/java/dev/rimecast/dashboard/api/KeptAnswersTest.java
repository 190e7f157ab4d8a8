package dev.rimecast.dashboard.api;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.http.Payload;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayDeque;
import java.util.List;
import java.util.Optional;
import java.util.Queue;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CopyOnWriteArrayList;
import org.junit.jupiter.api.Test;

class KeptAnswersTest {
    private static final SiteScope BAR = SiteScope.of(List.of("bar"));

    private final Queue<Runnable> behind = new ArrayDeque<>();
    private long nanos = 1_000;
    private long changes;
    private int built;
    private final KeptAnswers<SiteScope, Payload> kept = new KeptAnswers<>(() -> changes, () -> nanos, behind::add);

    private Payload build() {
        built++;
        return Payload.passing(("answer " + built).getBytes(StandardCharsets.UTF_8));
    }

    private Payload ask() {
        return kept.of(SiteScope.EVERY, this::build);
    }

    private void pass(Duration time) {
        nanos += time.toNanos();
    }

    private void runWhatIsBehind() {
        while (!behind.isEmpty()) {
            behind.remove().run();
        }
    }

    @Test
    void askedAgain_withinASecond_isTheSame() {
        Payload first = ask();
        pass(Duration.ofMillis(999));
        assertThat(ask()).isSameAs(first);
        assertThat(behind).isEmpty();
    }

    @Test
    void older_isShownOnceMore_andMadeAnewBehind_onceForAll() {
        Payload first = ask();
        pass(Duration.ofMillis(1_500));
        assertThat(ask()).isSameAs(first);
        assertThat(ask()).isSameAs(first);
        assertThat(behind).hasSize(1);
        assertThat(built).isEqualTo(1);

        runWhatIsBehind();
        assertThat(ask()).isNotSameAs(first);
        assertThat(built).isEqualTo(2);
        pass(Duration.ofSeconds(2));
        ask();
        assertThat(behind).as("again").hasSize(1);
    }

    @Test
    void tooOld_isNotShown() {
        Payload first = ask();
        pass(KeptAnswers.OLDEST);
        assertThat(ask()).isNotSameAs(first);
    }

    @Test
    void alertChanged_isNotShown_howeverYoung() {
        Payload first = ask();
        changes++;
        Payload second = ask();
        assertThat(second).isNotSameAs(first);
        assertThat(ask()).isSameAs(second);
    }

    @Test
    void alertChangedWhileItWasMade_isNotShown() {
        Payload first = kept.of(SiteScope.EVERY, () -> {
            changes++;
            return build();
        });
        assertThat(ask()).isNotSameAs(first);
    }

    @Test
    void forgotten_alsoWhatWasInTheMaking() {
        ask();
        pass(Duration.ofSeconds(2));
        ask();
        kept.forget();
        runWhatIsBehind();
        int before = built;
        ask();
        assertThat(built).isEqualTo(before + 1);
    }

    @Test
    void otherSites_haveTheirOwn() {
        Payload every = ask();
        Payload bar = kept.of(BAR, this::build);
        assertThat(bar).isNotSameAs(every);
        assertThat(ask()).isSameAs(every);
        assertThat(kept.of(BAR, this::build)).isSameAs(bar);
    }

    @Test
    void whileOneIsBuilt_othersOfOtherSites_areAnswered() {
        Payload every = kept.of(SiteScope.EVERY, () -> {
            assertThat(CompletableFuture.supplyAsync(() -> kept.of(BAR, this::build)))
                    .succeedsWithin(Duration.ofSeconds(20));
            return build();
        });
        assertThat(ask()).isSameAs(every);
        assertThat(built).isEqualTo(2);
    }

    @Test
    void whileOneIsBuilt_whoAsksTheSame_waitsForIt() throws InterruptedException {
        List<Payload> answers = new CopyOnWriteArrayList<>();
        Thread other = new Thread(() -> answers.add(ask()));
        Payload first = kept.of(SiteScope.EVERY, () -> {
            other.start();
            await().atMost(Duration.ofSeconds(20)).until(() -> other.getState() == Thread.State.WAITING);
            return build();
        });
        other.join(20_000);

        assertThat(answers).singleElement().isSameAs(first);
        assertThat(built).isEqualTo(1);
    }

    @Test
    void forgottenWhileItWasBuilt_isNotKept() {
        Payload first = kept.of(SiteScope.EVERY, () -> {
            kept.forget();
            return build();
        });
        assertThat(ask()).isNotSameAs(first);
    }

    @Test
    void soon_whereTheLastTookLong_isWhatIsAtHand_andNothingIsBuilt() {
        Payload first = kept.of(SiteScope.EVERY, () -> {
            pass(Duration.ofMillis(101));
            return build();
        });
        assertThat(soon()).contains(first);

        pass(KeptAnswers.OLDEST);
        assertThat(soon()).isEmpty();
        changes++;
        assertThat(soon()).isEmpty();
        assertThat(built).isEqualTo(1);
        assertThat(behind).isEmpty();
    }

    @Test
    void soon_afterAChangeThatForgetsAll_stillKnowsHowLongItTakes() {
        kept.of(SiteScope.EVERY, () -> {
            pass(Duration.ofMillis(101));
            return build();
        });
        kept.forget();

        assertThat(soon()).isEmpty();
        assertThat(built).isEqualTo(1);
    }

    @Test
    void soon_whereTheLastTookNoTime_orThereWasNone_isBuilt() {
        Payload first = soon().orElseThrow();
        changes++;
        assertThat(soon().orElseThrow()).isNotSameAs(first);
        assertThat(built).isEqualTo(2);
    }

    private Optional<Payload> soon() {
        return kept.soon(SiteScope.EVERY, this::build, Duration.ofMillis(100));
    }

    @Test
    void buildingThatFails_isTriedAgain() {
        assertThatThrownBy(() -> kept.of(SiteScope.EVERY, KeptAnswersTest::fails))
                .hasMessage("no database");
        ask();
        assertThat(built).isEqualTo(1);
    }

    @Test
    void renewalThatFails_isTriedAgain_andTheOldOneIsNotShownForLong() {
        ask();
        pass(Duration.ofSeconds(2));
        kept.of(SiteScope.EVERY, KeptAnswersTest::fails);
        runWhatIsBehind();
        kept.of(SiteScope.EVERY, KeptAnswersTest::fails);
        assertThat(behind).hasSize(1);
        pass(KeptAnswers.OLDEST);
        assertThatThrownBy(() -> kept.of(SiteScope.EVERY, KeptAnswersTest::fails))
                .hasMessage("no database");
    }

    private static Payload fails() {
        throw new IllegalStateException("no database");
    }
}
