package dev.rimecast.alerts.notice;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.yaml.YamlProblem;
import dev.rimecast.telemetry.yaml.YamlProblems;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class NoticeBookTest {
    private static final String SECRET = "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw";

    @Test
    void everyKind_isRead(@TempDir Path directory) throws IOException {
        Files.writeString(directory.resolve("mail.txt"), "hush\n");
        Files.writeString(directory.resolve("old.txt"), SECRET);
        Files.writeString(directory.resolve("new.txt"), SECRET + "\n");
        NoticeBook book = NoticeBook.parse("notices.yaml", """
                link: https://rimecast.example/
                planning-horizon: 10d
                mail: {host: mail.example, user: rimecast, password-file: mail.txt, from: rimecast@firm.example}
                receivers:
                  desk: {mail: desk@firm.example, zone: Europe/Berlin, hours: {mon-fri: "07:00-18:00", sat: "22:00-06:00"}}
                  hook: {webhook: "https://desk.example/in?key=1", secret-files: [new.txt, old.txt]}
                routes:
                  - name: urgent
                    sites: [bar]
                    priorities: [urgent, high]
                    kinds: [machine, place]
                    steps:
                      - {to: [desk, hook]}
                      - {to: [hook], unacknowledged-for: 15m}
                digests:
                  - {name: morning, to: [desk], at: "06:30", zone: Europe/Berlin}
                """, directory);

        assertThat(book.link()).isEqualTo("https://rimecast.example");
        assertThat(book.planningHorizon()).isEqualTo(Duration.ofDays(10));
        MailServer mail = book.mail().orElseThrow();
        assertThat(mail.security()).isEqualTo(MailServer.Security.STARTTLS);
        assertThat(mail.port()).isEqualTo(587);
        assertThat(mail.login().orElseThrow().password()).isEqualTo("hush");
        assertThat(mail.toString()).doesNotContain("hush");
        Channel.Webhook hook =
                (Channel.Webhook) book.receiver("hook").orElseThrow().channel();
        assertThat(hook.secrets()).hasSize(2);
        assertThat(hook.target()).as("a query may hold a token").isEqualTo("https://desk.example/in");
        assertThat(book.receiver("desk").orElseThrow().hours().orElseThrow().days())
                .hasSize(6);
        Route route = book.routes().get(0);
        assertThat(route.priorities()).containsExactlyInAnyOrder(Priority.URGENT, Priority.HIGH);
        assertThat(route.steps().get(1).after()).isEqualTo(Duration.ofMinutes(15));
    }

    @Test
    void everythingWrong_isToldInOneGoWithItsLine(@TempDir Path directory) throws IOException {
        Files.writeString(directory.resolve("short.txt"), "whsec_c2hvcnQ=");
        assertThatThrownBy(() -> NoticeBook.parse("notices.yaml", """
                link: rimecast.example
                mail: {host: mail.example, security: none, user: x, from: nobody}
                receivers:
                  desk: {mail: desk@firm.example, webhook: "https://desk.example"}
                  Hook: {webhook: "http://user@10.0.0.1/", secret-files: [short.txt]}
                  late: {outbox-only: true, zone: Moon/Crater, hours: {mon-fry: "7-18"}}
                routes:
                  - name: a
                    priority: [urgent]
                    steps:
                      - {to: [nobody], unacknowledged-for: 1m}
                  - {name: a, steps: []}
                digests:
                  - {name: d, to: [], at: "6.30", zone: Mars}
                """, directory))
                .isInstanceOfSatisfying(
                        YamlProblems.class,
                        problems -> assertThat(problems.problems())
                                .extracting(YamlProblem::toString)
                                .satisfies(NoticeBookTest::namesEach));
    }

    private static void namesEach(List<? extends String> found) {
        String all = String.join("\n", found);
        assertThat(all)
                .contains("link: must begin with https://")
                .contains("user and password-file belong together")
                .contains("mail.security: must be starttls or tls: mail.example is another machine")
                .contains("mail.from: must be one mail address")
                .contains("receivers.desk: must have exactly one of mail, webhook and outbox-only")
                .contains("small letters")
                .contains("short.txt must hold 24 to 64 bytes, holds 5")
                .contains("receivers.Hook.webhook: must begin with https://")
                .contains("receivers.late.zone: must be a zone of the IANA database")
                .contains("receivers.late.hours.mon-fry: must be a day or days")
                .contains("receivers.late.hours.mon-fry: must be a span such as 07:00-18:00")
                .contains("routes[0].priority: is not a known key")
                .contains("routes[0].steps[0].to: names nobody, which is not under receivers")
                .contains("routes[0].steps[0].unacknowledged-for: is for the second step")
                .contains("routes[1].steps: is empty")
                .contains("routes: has a twice")
                .contains("digests[0].to: is empty")
                .contains("digests[0].at: must be a local time")
                .contains("digests[0].zone: must be a zone");
        assertThat(found).allMatch(problem -> problem.matches("(?s)notices.yaml:\\d+: .*"));
    }

    @Test
    void nothing_tellsNobody() {
        assertThat(NoticeBook.parse("notices.yaml", "", Path.of(""))).isEqualTo(NoticeBook.NONE);
    }
}
