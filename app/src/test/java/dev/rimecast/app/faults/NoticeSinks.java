package dev.rimecast.app.faults;

import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.ServerSetup;
import com.sun.net.httpserver.HttpServer;
import jakarta.mail.MessagingException;
import jakarta.mail.Multipart;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.concurrent.ConcurrentHashMap;
import java.util.stream.Collectors;
import org.awaitility.Awaitility;

/** Where notices arrive, by mail and by webhook, outside of the server that is killed. */
final class NoticeSinks implements AutoCloseable {
    private final GreenMail mail = new GreenMail(new ServerSetup(0, "127.0.0.1", ServerSetup.PROTOCOL_SMTP));
    private final HttpServer hook;
    /** By webhook-id: the bodies that came under it. */
    private final Map<String, List<String>> posts = new ConcurrentHashMap<>();

    NoticeSinks() throws IOException {
        // The mail server's thread throws when a sender is killed in the midst of a mail, which is what these tests do;
        // by default whoever waits for anything at that moment fails by it.
        Awaitility.doNotCatchUncaughtExceptionsByDefault();
        mail.start();
        hook = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
        hook.createContext("/", exchange -> {
            String body = new String(exchange.getRequestBody().readAllBytes(), java.nio.charset.StandardCharsets.UTF_8);
            posts.computeIfAbsent(
                            Objects.requireNonNull(exchange.getRequestHeaders().getFirst("webhook-id")),
                            id -> java.util.Collections.synchronizedList(new ArrayList<>()))
                    .add(body);
            exchange.sendResponseHeaders(204, -1);
            exchange.close();
        });
        hook.start();
    }

    int mailPort() {
        return mail.getSmtp().getPort();
    }

    int hookPort() {
        return hook.getAddress().getPort();
    }

    /** A file of notices that sends everything to both. */
    void write(Path file) throws IOException {
        write(file, mailPort(), hookPort());
    }

    /** The same through other ports, behind which they are. */
    void write(Path file, int mailPort, int hookPort) throws IOException {
        Files.writeString(
                file.resolveSibling("secret"),
                "whsec_" + java.util.Base64.getEncoder().encodeToString(new byte[32]));
        Files.writeString(file, """
                link: https://rimecast.example
                mail: {host: 127.0.0.1, port: %d, security: none, from: rimecast@firm.example}
                webhook: {private-addresses: true}
                receivers:
                  desk: {mail: desk@firm.example}
                  tickets: {webhook: "http://127.0.0.1:%d/hook", secret-files: [secret]}
                routes:
                  - {name: all, steps: [{to: [desk, tickets]}]}
                """.formatted(mailPort, hookPort));
    }

    /** Ids of the notices that came by mail, one entry for each mail. */
    List<String> mailed() {
        return Arrays.stream(mail.getReceivedMessages())
                .map(message -> {
                    try {
                        String id = message.getMessageID();
                        return id.substring(1, id.indexOf('@'));
                    } catch (MessagingException e) {
                        throw new IllegalStateException(e);
                    }
                })
                .toList();
    }

    /** What all mails say, one after the other. */
    String mailedText() {
        return Arrays.stream(mail.getReceivedMessages())
                .map(message -> {
                    try {
                        return ((Multipart) message.getContent())
                                .getBodyPart(0)
                                .getContent()
                                .toString();
                    } catch (MessagingException | IOException e) {
                        throw new IllegalStateException(e);
                    }
                })
                .collect(Collectors.joining("\n"));
    }

    /** Ids of the notices that came by webhook, each with all bodies that came under it. */
    Map<String, List<String>> posted() {
        return posts;
    }

    @Override
    public void close() {
        mail.stop();
        hook.stop(0);
    }
}
