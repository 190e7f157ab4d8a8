package dev.rimecast.alerts.notice.outbox;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.notice.Channel;
import dev.rimecast.alerts.notice.Delivery.Kind;
import dev.rimecast.alerts.notice.NoticeBook;
import dev.rimecast.alerts.notice.Receiver;
import dev.rimecast.alerts.notice.outbox.ClaimStore.Claim;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class UnderWayTest {
    @TempDir
    Path directory;

    private NoticeBook book = NoticeBook.NONE;

    @BeforeEach
    void sixByMail_sixAtOneHost_oneElsewhere() throws Exception {
        Files.writeString(
                directory.resolve("secret"),
                "whsec_" + java.util.Base64.getEncoder().encodeToString(new byte[32]));
        StringBuilder yaml = new StringBuilder("link: https://rimecast.example\n"
                + "mail: {host: 127.0.0.1, security: none, from: rimecast@firm.example}\nreceivers:\n");
        for (int i = 1; i <= 6; i++) {
            yaml.append("  m").append(i).append(": {mail: m").append(i).append("@firm.example}\n");
            yaml.append("  w")
                    .append(i)
                    .append(": {webhook: \"https://slow.example/")
                    .append(i)
                    .append("\", secret-files: [secret]}\n");
        }
        yaml.append("  other: {webhook: \"https://other.example/\", secret-files: [secret]}\n");
        yaml.append("routes:\n  - {name: all, steps: [{to: [m1]}]}\n");
        book = NoticeBook.parse("notices.yaml", yaml.toString(), directory);
    }

    @Test
    void slowHost_blocksThoseBehindIt_andNobodyElse() {
        UnderWay underWay = new UnderWay(book);
        begin(underWay, "w1", "w2", "w3");
        assertThat(underWay.blocked().receivers()).containsExactlyInAnyOrder("w1", "w2", "w3");
        Claim fourth = begin(underWay, "w4").get(0);
        assertThat(underWay.blocked().receivers()).contains("w5", "w6").doesNotContain("other", "m1");
        assertThat(underWay.blocked().mail()).isFalse();
        underWay.ends(fourth);
        assertThat(underWay.blocked().receivers()).doesNotContain("w4", "w5", "w6");
    }

    @Test
    void slowMailServer_blocksMail_linksAmongIt_andNoWebhook() {
        UnderWay underWay = new UnderWay(book);
        begin(underWay, "m1", "m2", "m3", "m4");
        assertThat(underWay.blocked().receivers()).contains("m5", "m6").doesNotContain("w1", "other");
        assertThat(underWay.blocked().mail()).isTrue();
        assertThat(underWay.claims()).hasSize(4);
    }

    private List<Claim> begin(UnderWay underWay, String... receivers) {
        List<Claim> claims = new ArrayList<>();
        for (String receiver : receivers) {
            Claim claim = new Claim(
                    UUID.randomUUID(),
                    Kind.RAISED,
                    Optional.empty(),
                    receiver,
                    1,
                    Optional.empty(),
                    Optional.empty(),
                    "");
            Optional<Channel> channel = book.receiver(receiver).map(Receiver::channel);
            underWay.begins(claim, channel);
            claims.add(claim);
        }
        return claims;
    }
}
