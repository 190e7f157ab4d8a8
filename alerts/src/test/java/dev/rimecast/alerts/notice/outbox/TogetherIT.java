package dev.rimecast.alerts.notice.outbox;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.notice.NoticeBook;
import dev.rimecast.alerts.notice.outbox.Checkpoint.Step;
import dev.rimecast.alerts.notice.send.Message;
import dev.rimecast.alerts.notice.send.Outcome;
import dev.rimecast.alerts.notice.text.Rendering;
import dev.rimecast.alerts.register.RegisterImport;
import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.alerts.store.FindingStore;
import dev.rimecast.alerts.store.SiteLocks;
import dev.rimecast.alerts.view.NoticeView;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.machine.Site;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import org.junit.jupiter.api.AutoClose;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestInstance.Lifecycle;
import org.junit.jupiter.api.io.TempDir;

/** A region's gateways fall silent: a desk that has mail gets a few mails, a program that has a webhook an event for each site. */
@TestInstance(Lifecycle.PER_CLASS)
class TogetherIT {
    private static final int SITES = 40;
    private static final String BOOK = """
            link: https://rimecast.example
            mail: {host: 127.0.0.1, port: 25, security: none, from: rimecast@firm.example}
            webhook: {private-addresses: true}
            receivers:
              desk: {mail: desk@firm.example}
              program: {webhook: "http://127.0.0.1:9/hook", secret-files: [secret]}
            routes:
              - name: main
                steps:
                  - {to: [desk, program]}
            """;

    @TempDir
    static Path directory;

    @AutoClose
    private OutboxBench bench;

    private final FindingStore findings = new FindingStore(new BooksInForce());
    private Inboxes inboxes;

    @BeforeAll
    void start() throws Exception {
        Files.writeString(directory.resolve("secret"), "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSwMfKQ9r8GKYqr");
        bench = new OutboxBench(NoticeBook.parse("notices.yaml", BOOK, directory));
        inboxes = bench.inboxes();
        List<Machine> machines = new ArrayList<>();
        List<Site> sites = new ArrayList<>();
        for (int i = 0; i < SITES; i++) {
            machines.add(Machine.basic("m-" + i, site(i), "gw-" + i));
            sites.add(World.site(site(i), "Site %02d".formatted(i)));
        }
        new RegisterImport(bench.database(), bench::now, () -> {})
                .apply(new Register(machines, sites), "policy-1", "a: 1");
    }

    @BeforeEach
    void empty() {
        bench.begin(Instant.parse("2026-11-25T12:00:00Z"));
    }

    private static String site(int i) {
        return "site-" + i;
    }

    private List<Finding> silent(int from, int to) {
        return IntStream.range(from, to)
                .mapToObj(i -> receive(i, bench.now(), 1, Finding.Step.RAISED))
                .toList();
    }

    private void back(List<Finding> silent) {
        for (Finding finding : silent) {
            int i = Integer.parseInt(finding.site().substring("site-".length()));
            receive(i, finding.raisedAt(), 2, Finding.Step.CLEARED);
        }
        bench.world().acknowledgeAll();
    }

    private Finding receive(int i, Instant raisedAt, int revision, Finding.Step step) {
        Finding finding = new Finding(
                Finding.idOf("gateway:gw-" + i, Condition.GATEWAY_SILENT, raisedAt),
                revision,
                step,
                site(i),
                Optional.empty(),
                Optional.of("gw-" + i),
                Condition.GATEWAY_SILENT,
                Stage.AT_LIMIT,
                Priority.URGENT,
                bench.now(),
                raisedAt,
                List.of(),
                Optional.empty(),
                Optional.empty(),
                "The gateway is silent.",
                "detector-1",
                "policy-1");
        bench.database().jdbi().useTransaction(handle -> {
            SiteLocks.take(handle, List.of(finding.site()));
            findings.receive(handle, finding, bench.now());
        });
        return finding;
    }

    private List<String> sent(String kind) {
        return bench.database()
                .jdbi()
                .withHandle(handle -> handle.createQuery(
                                "select site from notice_delivery where state = 'sent' and channel = 'mail' and kind = :kind order by site")
                        .bind("kind", kind)
                        .mapTo(String.class)
                        .list());
    }

    @Test
    void region_isOneMail_thatNamesEverySite_andItsEndIsOne() {
        List<Finding> silent = silent(0, SITES);
        bench.round();
        assertThat(inboxes.messages("program")).as("events, one for each site").hasSize(SITES);
        assertThat(inboxes.messages("desk")).as("mails").hasSize(1);
        Message mail = inboxes.messages("desk").get(0);
        assertThat(mail.content().subject())
                .startsWith("Please check 40 sites: ")
                .endsWith(" (urgent)");
        String text = Rendering.plain(mail.content());
        assertThat(IntStream.range(0, SITES).mapToObj("Site %02d: since"::formatted))
                .allMatch(text::contains);
        assertThat(sent("raised"))
                .as("every site's notice counts as sent")
                .hasSize(SITES)
                .doesNotHaveDuplicates();

        back(silent);
        bench.pass(Duration.ofMinutes(1));
        bench.round();
        assertThat(inboxes.arrived("desk")).containsExactly("raised", "over");
        assertThat(sent("over")).hasSize(SITES);
        assertThat(inboxes.messages("program")).hasSize(2 * SITES);
    }

    @Test
    void few_goOneByOne_andWhatFollowsSoonWaitsForTheOthers() {
        silent(0, 4);
        bench.round();
        assertThat(inboxes.messages("desk"))
                .as("three, each with its advice; the fourth waits")
                .hasSize(Together.SINGLE);
        silent(4, 10);
        bench.pass(Duration.ofMinutes(5));
        bench.round();
        assertThat(inboxes.messages("desk")).hasSize(Together.SINGLE);
        bench.pass(Together.LATELY);
        bench.round();
        assertThat(inboxes.messages("desk")).hasSize(Together.SINGLE + 1);
        assertThat(inboxes.messages("desk").get(Together.SINGLE).content().subject())
                .contains(" 7 sites: ");
        assertThat(sent("raised")).hasSize(10).doesNotHaveDuplicates();
    }

    @Test
    void mailThatFails_goesAgainWithTheSameIdAndTheSameSites_andByHandForAllOfThem() {
        inboxes.answer("desk", new Outcome.Again("busy", Optional.empty()));
        silent(0, 10);
        bench.round();
        silent(10, 12);
        inboxes.answer("desk", new Outcome.Refused("no such mailbox"));
        bench.pass(Duration.ofMinutes(1));
        bench.round();
        List<Message> mails = inboxes.messages("desk");
        assertThat(mails.get(1).id()).isEqualTo(mails.get(0).id());
        assertThat(mails.get(1).content()).isEqualTo(mails.get(0).content());
        assertThat(mails.get(1).content().subject()).contains(" 10 sites: ");

        inboxes.answer("desk", new Outcome.Sent("fine"));
        NoticeView one = bench.notices().list(1_000).stream()
                .filter(notice ->
                        notice.channel().equals("mail") && notice.state().equals("failed"))
                .filter(notice -> !notice.id().equals(mails.get(0).id())
                        && notice.subject().orElse("").contains(" 10 sites: "))
                .findFirst()
                .orElseThrow();
        bench.notices().retry(one.id(), new Person("ada"));
        bench.round();
        assertThat(sent("raised"))
                .as("all that were in the mail")
                .hasSizeGreaterThanOrEqualTo(10)
                .doesNotHaveDuplicates();
        assertThat(inboxes.messages("desk").stream()
                        .filter(m -> m.id().equals(mails.get(0).id())))
                .hasSize(3);
    }

    @Test
    void process_thatEnds_sendsTheSameMailAgain() {
        for (Step step : List.of(Step.CLAIM_WRITTEN, Step.CLAIMED, Step.SENT, Step.RESULT_WRITTEN)) {
            bench.begin(Instant.parse("2026-11-25T12:00:00Z"));
            silent(0, 8);
            bench.dieOnceAt(step);
            bench.roundOrDie();
            assertThat(bench.died()).as("died at %s", step).isTrue();
            silent(8, 9);
            bench.pass(ClaimStore.LEASE.plusSeconds(1));
            bench.round();
            List<Message> mails = inboxes.messages("desk");
            assertThat(mails).as("at %s", step).isNotEmpty();
            assertThat(mails.stream()
                            .filter(mail -> mail.content().subject().contains(" sites: "))
                            .map(Message::content)
                            .distinct())
                    .as("the mail of many says the same each time, %s", step)
                    .hasSize(1);
            bench.pass(Together.LATELY.plusSeconds(1));
            bench.round();
            assertThat(sent("raised")).as("at %s", step).hasSize(9).doesNotHaveDuplicates();
        }
    }
}
