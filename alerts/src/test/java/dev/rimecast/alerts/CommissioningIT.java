package dev.rimecast.alerts;

import static dev.rimecast.alerts.life.Findings.NOON;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.acceptance.AcceptanceView;
import dev.rimecast.alerts.advice.CommissioningBook;
import dev.rimecast.alerts.advice.MachineKind;
import dev.rimecast.alerts.view.Events;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.work.Commissioned;
import dev.rimecast.alerts.work.Commissioning;
import dev.rimecast.telemetry.cycle.Acceptance;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** Records of commissioning and what first cycles say, on a real database. */
class CommissioningIT extends StageBench {
    private static final Instant NOW = NOON.plusSeconds(3_600);
    private static final Person ADA = new Person("ada");

    CommissioningIT() {
        super(NOW);
    }

    @BeforeAll
    void start() {
        know(new Register(
                List.of(Machine.basic("ice-a", "bar", "gw-bar"), Machine.basic("ice-c", "club", "gw-club")),
                List.of()));
    }

    @Test
    void commissioning_sentTwice_isStoredOnceAndSeenOnItsSiteOnly() {
        Commissioning commissioning = stage.commissioning();
        List<Commissioned.Answer> answers = CommissioningBook.standard().of(MachineKind.NOT_KNOWN).items().stream()
                .map(item -> new Commissioned.Answer(
                        item.id(),
                        "",
                        item.id().equals("isolator") ? Commissioned.Result.NOT_OK : Commissioned.Result.OK,
                        item.id().equals("isolator") ? "behind the machine" : ""))
                .toList();
        Commissioned record = new Commissioned(UUID.randomUUID(), NOW, answers, "moved in", "Pim", "J-2");

        Commissioning.Outcome first = commissioning.commission(SiteScope.EVERY, "ice-c", record, ADA);
        Commissioning.Outcome again = commissioning.commission(SiteScope.EVERY, "ice-c", record, ADA);

        assertThat(first).isInstanceOf(Commissioning.Outcome.Added.class);
        Commissioned.Stored stored = ((Commissioning.Outcome.Added) first).record();
        assertThat(again).isEqualTo(new Commissioning.Outcome.Known(stored));
        assertThat(stored.isGood()).isFalse();
        assertThat(commissioning.commissionings(SiteScope.EVERY, "ice-c")).containsExactly(stored);
        assertThat(commissioning.commissionings(SiteScope.of(List.of("bar")), "ice-c"))
                .isEmpty();
        assertThat(commissioning.commission(SiteScope.of(List.of("bar")), "ice-c", record, ADA))
                .isInstanceOf(Commissioning.Outcome.NotFound.class);
        assertThat(commissioning.commission(SiteScope.EVERY, "ice-a", record, ADA))
                .isInstanceOf(Commissioning.Outcome.Refused.class);
        assertThatThrownBy(() -> engines.jdbi()
                        .useHandle(handle -> handle.execute("update commissioning_answer set result = 'ok'")))
                .hasMessageContaining("append-only");
    }

    @Test
    void acceptance_ofFirstCycles_isTheOneOfMostCyclesUntilTheMachineIsMoved() {
        Instant began = NOON.minusSeconds(90_000);
        for (int cycles : List.of(3, 4, 3)) {
            Instant start = began.plusSeconds(cycles * 1_500L);
            engines.send(
                    "club",
                    Story.cycle(
                            "ice-c", start, start.plusSeconds(1_400), Optional.of(Story.acceptance(cycles, began))));
        }
        await().until(() -> !acceptances(SiteScope.EVERY).isEmpty()
                && acceptances(SiteScope.EVERY).get(0).acceptance().cycles() == 4);

        assertThat(acceptances(SiteScope.EVERY)).singleElement().satisfies(view -> {
            assertThat(view.verdict()).isEqualTo(Acceptance.Verdict.ACCEPTED);
            assertThat(view.acceptance()).isEqualTo(Story.acceptance(4, began));
        });
        assertThat(acceptances(SiteScope.of(List.of("bar")))).isEmpty();

        stage.siteEvents()
                .report(
                        SiteScope.EVERY,
                        List.of(new Events.Report(
                                Optional.empty(),
                                Optional.of("ice-c"),
                                Optional.of(NOON),
                                EventKind.MOVED,
                                "",
                                "Pim",
                                "")),
                        ADA);

        assertThat(acceptances(SiteScope.EVERY)).first().satisfies(view -> {
            assertThat(view.verdict()).isEqualTo(Acceptance.Verdict.NOT_YET_KNOWN);
            assertThat(view.acceptance().reason()).isEqualTo(Acceptance.Reason.MOVED);
        });
    }

    private List<AcceptanceView> acceptances(SiteScope sites) {
        return stage.commissioning().acceptances(sites, "ice-c");
    }
}
