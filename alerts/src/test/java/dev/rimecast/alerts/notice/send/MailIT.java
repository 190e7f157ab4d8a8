package dev.rimecast.alerts.notice.send;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assertions.assertTimeoutPreemptively;

import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.ServerSetup;
import dev.rimecast.alerts.notice.Channel;
import dev.rimecast.alerts.notice.MailServer;
import dev.rimecast.alerts.notice.MailServer.Security;
import dev.rimecast.alerts.notice.text.Content;
import dev.rimecast.alerts.notice.text.Content.Line;
import dev.rimecast.alerts.notice.text.Content.Section;
import jakarta.mail.internet.MimeMessage;
import jakarta.mail.internet.MimeMultipart;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Mail to a real SMTP server (GreenMail), and to ones that answer as bad servers do. */
class MailIT {
    private static final Instant NOW = Instant.parse("2026-11-25T12:00:00Z");
    private static final UUID ID = UUID.fromString("11111111-2222-5333-8444-555555555555");
    private static final Channel.Mail DESK = new Channel.Mail("desk@firm.example");
    private static final Duration TIMEOUT = Duration.ofMillis(1_500);

    @TempDir
    static Path directory;

    private static Certificate certificate;

    private GreenMail server;

    /** GreenMail reads it once in a process. */
    @BeforeAll
    static void makeCertificate() throws Exception {
        certificate = Certificate.of("localhost", directory);
        System.setProperty("greenmail.tls.keystore.file", certificate.store().toString());
        System.setProperty("greenmail.tls.keystore.password", Certificate.PASSWORD);
    }

    @AfterAll
    static void noCertificate() {
        System.clearProperty("greenmail.tls.keystore.file");
        System.clearProperty("greenmail.tls.keystore.password");
    }

    @BeforeEach
    void start() {
        server = new GreenMail(new ServerSetup(0, "127.0.0.1", ServerSetup.PROTOCOL_SMTP));
        server.setUser("rimecast@firm.example", "rimecast", "hush");
        server.start();
    }

    @AfterEach
    void stop() {
        server.stop();
    }

    @Test
    void notice_arrivesAsTextAndHtml_withAConstantId() throws Exception {
        MailSender sender = sender(
                server.getSmtp().getPort(), Security.NONE, Optional.of(new MailServer.Login("rimecast", "hush")));
        assertThat(sender.send(DESK, message())).isInstanceOf(Outcome.Sent.class);
        assertThat(sender.send(DESK, message())).isInstanceOf(Outcome.Sent.class);

        MimeMessage[] mails = server.getReceivedMessages();
        assertThat(mails).hasSize(2);
        assertThat(mails[0].getMessageID())
                .isEqualTo("<11111111-2222-5333-8444-555555555555@firm.example>")
                .isEqualTo(mails[1].getMessageID());
        MimeMessage mail = mails[0];
        assertThat(mail.getSubject()).isEqualTo("Please check: Café, ice-1: 5 °C too warm Bcc: x@evil.example");
        assertThat(mail.getHeader("Bcc")).isNull();
        assertThat(mail.getAllRecipients()).extracting(Object::toString).containsExactly("desk@firm.example");
        assertThat(mail.getSentDate().toInstant()).isEqualTo(NOW);
        assertThat(mail.getHeader("Auto-Submitted", null)).isEqualTo("auto-generated");
        MimeMultipart both = (MimeMultipart) mail.getContent();
        assertThat(both.getContentType()).startsWith("multipart/alternative");
        assertThat((String) both.getBodyPart(0).getContent())
                .contains(
                        "Site: Café",
                        "Cause: Likely: scale",
                        "  - Is the tap open?",
                        "https://rimecast.example/cases#1");
        assertThat(both.getBodyPart(1).getContentType()).startsWith("text/html");
        assertThat((String) both.getBodyPart(1).getContent())
                .contains("<li>Is the tap open?</li>", "&lt;b&gt;not bold&lt;/b&gt;")
                .doesNotContain("<script", "<img", "<b>not");
    }

    @Test
    void serverWithoutTls_getsNoMail_whereTlsIsAskedFor() {
        assertThat(sender(server.getSmtp().getPort(), Security.STARTTLS, Optional.empty())
                        .send(DESK, message()))
                .isInstanceOfSatisfying(
                        Outcome.Again.class, again -> assertThat(again.detail()).contains("STARTTLS is required"));
        assertThat(sender(server.getSmtp().getPort(), Security.TLS, Optional.empty())
                        .send(DESK, message()))
                .isInstanceOf(Outcome.Again.class);
        assertThat(server.getReceivedMessages()).isEmpty();
    }

    /** The server's certificate is for localhost: by that name it is believed, by another one of the same server not. */
    @Test
    void tlsFromTheFirstByte_arrives_whereTheCertificateIsForTheServersName() throws Exception {
        GreenMail tls = new GreenMail(new ServerSetup(0, "127.0.0.1", ServerSetup.PROTOCOL_SMTPS));
        tls.start();
        try {
            Map<String, Object> trusts = Map.of(
                    "mail.smtps.ssl.socketFactory", certificate.trusting().getSocketFactory());
            assertThat(tlsSender("localhost", tls, trusts).send(DESK, message()))
                    .isInstanceOf(Outcome.Sent.class);
            assertThat(tls.getReceivedMessages()).hasSize(1);
            assertThat(tlsSender("127.0.0.1", tls, trusts).send(DESK, message()))
                    .isInstanceOf(Outcome.Again.class);
            assertThat(tls.getReceivedMessages()).hasSize(1);
        } finally {
            tls.stop();
        }
    }

    private static MailSender tlsSender(String host, GreenMail server, Map<String, Object> trusts) {
        return new MailSender(
                new MailServer(
                        host, server.getSmtps().getPort(), Security.TLS, Optional.empty(), "rimecast@firm.example"),
                TIMEOUT,
                trusts);
    }

    @Test
    void selfMadeCertificate_isNotTrusted() {
        GreenMail tls = new GreenMail(new ServerSetup(0, "127.0.0.1", ServerSetup.PROTOCOL_SMTPS));
        tls.start();
        try {
            assertThat(sender(tls.getSmtps().getPort(), Security.TLS, Optional.empty())
                            .send(DESK, message()))
                    .isInstanceOf(Outcome.Again.class);
            assertThat(tls.getReceivedMessages()).isEmpty();
        } finally {
            tls.stop();
        }
    }

    @Test
    void wrongPassword_isTriedAgain_andNotShown() {
        Optional<MailServer.Login> login = Optional.of(new MailServer.Login("rimecast", "wrong-one"));
        Outcome outcome =
                sender(server.getSmtp().getPort(), Security.NONE, login).send(DESK, message());
        assertThat(outcome).isInstanceOf(Outcome.Again.class);
        assertThat(outcome.detail()).doesNotContain("wrong-one");
    }

    @Test
    void server_thatRefusesTheReceiver_isBelieved_andOneThatIsBusyIsTriedAgain() throws Exception {
        assertThat(scripted("550 no such mailbox")).isInstanceOf(Outcome.Refused.class);
        assertThat(scripted("451 try later")).isInstanceOf(Outcome.Again.class);
        assertThat(scripted("552 too big")).isInstanceOf(Outcome.Again.class);
    }

    @Test
    void server_thatSaysNothing_endsAtTheTimeLimit() throws Exception {
        try (ServerSocket silent = new ServerSocket(0, 5, InetAddress.getLoopbackAddress())) {
            assertThat(sender(silent.getLocalPort(), Security.NONE, Optional.empty())
                            .send(DESK, message()))
                    .isInstanceOf(Outcome.Again.class);
        }
    }

    /** A byte now and then, and no end: each comes before the time limit of a read. */
    @Test
    void server_thatTrickles_endsAtTheTimeLimitOfTheWholeAttempt() throws Exception {
        try (ServerSocket trickling = new ServerSocket(0, 5, InetAddress.getLoopbackAddress())) {
            Thread thread = new Thread(() -> trickle(trickling));
            thread.start();
            MailSender sender = sender(trickling.getLocalPort(), Security.NONE, Optional.empty());
            Outcome outcome = assertTimeoutPreemptively(TIMEOUT.multipliedBy(10), () -> sender.send(DESK, message()));
            assertThat(outcome).isInstanceOf(Outcome.Again.class);
            assertThat(outcome.detail()).contains("not taken within 6 s");
            thread.join();
        }
    }

    private static void trickle(ServerSocket server) {
        try (Socket client = server.accept()) {
            CountDownLatch never = new CountDownLatch(1);
            client.getOutputStream().write("220 ".getBytes(StandardCharsets.US_ASCII));
            while (!never.await(200, TimeUnit.MILLISECONDS)) {
                client.getOutputStream().write('x');
            }
        } catch (IOException gone) {
            // Is what the sender is to do.
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** A server whose answer to the receiver's address is given. */
    private static Outcome scripted(String answer) throws IOException, InterruptedException {
        try (ServerSocket socket = new ServerSocket(0, 5, InetAddress.getLoopbackAddress())) {
            Thread thread = new Thread(() -> serve(socket, answer));
            thread.start();
            Outcome outcome = sender(socket.getLocalPort(), Security.NONE, Optional.empty())
                    .send(DESK, message());
            thread.join();
            return outcome;
        }
    }

    private static void serve(ServerSocket server, String answer) {
        try (Socket client = server.accept();
                BufferedReader in =
                        new BufferedReader(new InputStreamReader(client.getInputStream(), StandardCharsets.US_ASCII))) {
            OutputStream out = client.getOutputStream();
            out.write("220 here\r\n".getBytes(StandardCharsets.US_ASCII));
            String line = in.readLine();
            while (line != null) {
                String reply = line.startsWith("RCPT") ? answer : line.startsWith("QUIT") ? "221 bye" : "250 ok";
                out.write((reply + "\r\n").getBytes(StandardCharsets.US_ASCII));
                line = in.readLine();
            }
        } catch (IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
    }

    private static MailSender sender(int port, Security security, Optional<MailServer.Login> login) {
        return new MailSender(new MailServer("127.0.0.1", port, security, login, "rimecast@firm.example"), TIMEOUT);
    }

    static Message message() {
        Content content = new Content(
                NOW,
                "Please check: Café, ice-1: 5 °C too warm\r\nBcc: x@evil.example",
                "This needs somebody to look at it.",
                List.of(
                        new Section("", List.of(new Line("Site", "Café"), new Line("Cause", "Likely: scale"))),
                        new Section(
                                "What the site can check first",
                                List.of(new Line("", "Is the tap open?"), new Line("", "<b>not bold</b>")))),
                "https://rimecast.example/cases#1",
                Map.of("kind", "raised"));
        return new Message(ID, "raised", content, NOW.plusSeconds(60));
    }
}
