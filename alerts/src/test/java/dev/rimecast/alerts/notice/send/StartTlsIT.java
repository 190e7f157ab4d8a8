package dev.rimecast.alerts.notice.send;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.notice.Channel;
import dev.rimecast.alerts.notice.MailServer;
import dev.rimecast.alerts.notice.MailServer.Security;
import java.net.InetAddress;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import javax.net.ssl.SSLContext;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.subethamail.smtp.auth.EasyAuthenticationHandlerFactory;
import org.subethamail.smtp.auth.LoginFailedException;
import org.subethamail.smtp.server.SMTPServer;

/**
 * STARTTLS (RFC 3207) with a real SMTP server (SubEthaSMTP) that takes neither a login nor a mail before it: so what
 * arrives has come through TLS.
 */
class StartTlsIT {
    private static final Channel.Mail DESK = new Channel.Mail("desk@firm.example");
    private static final MailServer.Login LOGIN = new MailServer.Login("rimecast", "hush");
    private static final Duration TIMEOUT = Duration.ofSeconds(10);

    private static Certificate certificate;

    private final List<String> mails = new CopyOnWriteArrayList<>();
    private final List<String> logins = new CopyOnWriteArrayList<>();
    private SMTPServer server;

    @BeforeAll
    static void makeCertificate(@TempDir Path directory) throws Exception {
        certificate = Certificate.of("localhost", directory);
    }

    @BeforeEach
    void start() throws Exception {
        server = SMTPServer.port(0)
                .bindAddress(InetAddress.getLoopbackAddress())
                .hostName("localhost")
                .startTlsSocketFactory(certificate.serving())
                .enableTLS()
                .requireTLS()
                .requireAuth()
                .authenticationHandlerFactory(new EasyAuthenticationHandlerFactory((user, password, context) -> {
                    logins.add(user);
                    if (!password.equals(LOGIN.password())) {
                        throw new LoginFailedException();
                    }
                }))
                .messageHandler(
                        (context, from, to, data) -> mails.add(to + '\n' + new String(data, StandardCharsets.UTF_8)))
                .build();
        server.start();
    }

    @AfterEach
    void stop() {
        server.stop();
    }

    private MailSender sender(String host, Security security, MailServer.Login login, Optional<SSLContext> knows) {
        return new MailSender(
                new MailServer(host, server.getPortAllocated(), security, Optional.of(login), "rimecast@firm.example"),
                TIMEOUT,
                knows.<Map<String, Object>>map(
                                context -> Map.of("mail.smtp.ssl.socketFactory", context.getSocketFactory()))
                        .orElse(Map.of()));
    }

    @Test
    void starttls_certificateForTheServersName_loginAndMailArrive() throws Exception {
        MailSender sender = sender("localhost", Security.STARTTLS, LOGIN, Optional.of(certificate.trusting()));

        assertThat(sender.send(DESK, MailIT.message())).isEqualTo(new Outcome.Sent("taken by localhost"));
        assertThat(logins).containsExactly("rimecast");
        assertThat(mails)
                .singleElement()
                .satisfies(mail -> assertThat(mail)
                        .startsWith("desk@firm.example\n")
                        .contains("Message-ID: <11111111-2222-5333-8444-555555555555@firm.example>"));
    }

    @Test
    void starttls_certificateForAnotherName_saysSo_andNeitherLoginNorMailLeaves() throws Exception {
        MailSender sender = sender("127.0.0.1", Security.STARTTLS, LOGIN, Optional.of(certificate.trusting()));

        assertThat(sender.send(DESK, MailIT.message()))
                .isInstanceOfSatisfying(
                        Outcome.Again.class,
                        again -> assertThat(again.detail())
                                .startsWith("127.0.0.1: ")
                                .contains("Could not convert socket to TLS", "127.0.0.1"));
        assertNothingLeft();
    }

    @Test
    void starttls_certificateOfNobodyKnown_saysSo_andNeitherLoginNorMailLeaves() {
        MailSender sender = sender("localhost", Security.STARTTLS, LOGIN, Optional.empty());

        assertThat(sender.send(DESK, MailIT.message()))
                .isInstanceOfSatisfying(
                        Outcome.Again.class,
                        again -> assertThat(again.detail())
                                .contains(
                                        "Could not convert socket to TLS", "unable to find valid certification path"));
        assertNothingLeft();
    }

    @Test
    void starttls_wrongPassword_isTriedAgain_andNotShown() throws Exception {
        MailServer.Login wrong = new MailServer.Login("rimecast", "wrong-one");
        MailSender sender = sender("localhost", Security.STARTTLS, wrong, Optional.of(certificate.trusting()));

        assertThat(sender.send(DESK, MailIT.message()))
                .isInstanceOfSatisfying(
                        Outcome.Again.class,
                        again -> assertThat(again.detail())
                                .contains("localhost: ")
                                .doesNotContain("wrong-one"));
        assertThat(mails).isEmpty();
    }

    @Test
    void plain_whereTheServerAsksForTls_isRefusedByTheServer_withItsWords() {
        assertThat(sender("localhost", Security.NONE, LOGIN, Optional.empty()).send(DESK, MailIT.message()))
                .isInstanceOfSatisfying(
                        Outcome.Again.class, again -> assertThat(again.detail()).startsWith("localhost"));
        assertNothingLeft();
    }

    private void assertNothingLeft() {
        assertThat(logins).isEmpty();
        assertThat(mails).isEmpty();
    }
}
