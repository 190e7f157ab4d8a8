package dev.rimecast.alerts.notice.send;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpServer;
import dev.rimecast.alerts.notice.Channel;
import dev.rimecast.alerts.notice.WebhookSecret;
import dev.rimecast.alerts.notice.text.Content;
import io.cloudevents.core.format.EventFormat;
import io.cloudevents.core.provider.EventFormatProvider;
import io.cloudevents.jackson.JsonFormat;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.net.SocketAddress;
import java.net.URI;
import java.net.UnknownHostException;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.Base64;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Queue;
import java.util.UUID;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import org.apache.hc.client5.http.DnsResolver;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Webhooks to a real HTTP server that answers as receivers do: well, slowly, with failures, with redirects. */
class WebhookIT {
    private static final Instant NOW = Instant.parse("2026-11-25T12:00:00Z");
    private static final UUID ID = UUID.fromString("11111111-2222-5333-8444-555555555555");
    private static final WebhookSecret NEW = secret(1);
    private static final WebhookSecret OLD = secret(2);

    private final BlockingQueue<Received> received = new LinkedBlockingQueue<>();
    private final CountDownLatch over = new CountDownLatch(1);
    private final ExecutorService threads = Executors.newCachedThreadPool();
    private final WebhookSender sender =
            new WebhookSender(new TargetGuard(true), "https://rimecast.example", Duration.ofMillis(1_500));
    private HttpServer server;

    private record Received(String path, Map<String, List<String>> headers, byte[] body) {
        String header(String name) {
            return String.join(", ", headers.getOrDefault(name, List.of()));
        }
    }

    @BeforeEach
    void start() throws IOException {
        server = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
        server.setExecutor(threads);
        server.createContext("/", this::answer);
        server.start();
    }

    @AfterEach
    void stop() {
        over.countDown();
        sender.close();
        server.stop(0);
        threads.shutdownNow();
    }

    /** The path says how it answers. */
    private void answer(HttpExchange exchange) throws IOException {
        String path = exchange.getRequestURI().getPath();
        received.add(new Received(
                path,
                Map.copyOf(exchange.getRequestHeaders()),
                exchange.getRequestBody().readAllBytes()));
        try {
            switch (path) {
                case "/slow" -> over.await(20, TimeUnit.SECONDS);
                case "/busy" -> {
                    exchange.getResponseHeaders().add("Retry-After", "3600");
                    exchange.sendResponseHeaders(429, -1);
                }
                case "/301", "/302", "/303", "/307", "/308" -> {
                    exchange.getResponseHeaders().add("Location", url("/secret").toString());
                    exchange.sendResponseHeaders(Integer.parseInt(path.substring(1)), -1);
                }
                case "/gone" -> exchange.sendResponseHeaders(410, -1);
                case "/broken" -> exchange.sendResponseHeaders(500, -1);
                case "/talks" -> talk(exchange);
                default -> exchange.sendResponseHeaders(204, -1);
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        exchange.close();
    }

    /** Accepts, and then sends an answer without end. */
    private void talk(HttpExchange exchange) throws IOException, InterruptedException {
        exchange.sendResponseHeaders(200, 0);
        byte[] drip = new byte[1024];
        while (!over.await(20, TimeUnit.MILLISECONDS)) {
            exchange.getResponseBody().write(drip);
            exchange.getResponseBody().flush();
        }
    }

    @Test
    void event_isReadByAnIndependentReader_andSignedWithBothSecrets() throws Exception {
        Outcome outcome = send("/in", List.of(NEW, OLD));

        assertThat(outcome).isEqualTo(new Outcome.Sent("answered 204"));
        Received one = received.take();
        EventFormat format = EventFormatProvider.getInstance().resolveFormat(JsonFormat.CONTENT_TYPE);
        var event = format.deserialize(one.body()); // the CloudEvents SDK for Java
        assertThat(event.getSpecVersion()).hasToString("1.0");
        assertThat(event.getId()).isEqualTo(ID.toString());
        assertThat(event.getSource()).hasToString("https://rimecast.example");
        assertThat(event.getType()).isEqualTo("dev.rimecast.notice.raised.v1");
        assertThat(event.getSubject()).isEqualTo("case-1");
        assertThat(event.getTime().toInstant()).isEqualTo(NOW.minusSeconds(5));
        assertThat(event.getDataContentType()).isEqualTo("application/json");
        assertThat(new String(event.getData().toBytes(), StandardCharsets.UTF_8))
                .contains("\"Ice, & more\"");
        assertThat(one.header("Content-type")).startsWith("application/cloudevents+json");
        assertThat(one.header("Webhook-id")).isEqualTo(ID.toString());
        long timestamp = NOW.getEpochSecond();
        assertThat(one.header("Webhook-timestamp")).isEqualTo(Long.toString(timestamp));
        assertThat(one.header("Webhook-signature"))
                .isEqualTo(NEW.sign(ID.toString(), timestamp, one.body())
                        + ' '
                        + OLD.sign(ID.toString(), timestamp, one.body()));
    }

    @Test
    void repeat_hasTheSameIdAndBytes() throws Exception {
        send("/in", List.of(NEW));
        send("/in", List.of(NEW));
        Received first = received.take();
        Received second = received.take();
        assertThat(second.header("Webhook-id")).isEqualTo(first.header("Webhook-id"));
        assertThat(second.body()).isEqualTo(first.body());
    }

    @ParameterizedTest
    @ValueSource(ints = {301, 302, 303, 307, 308})
    void redirect_isNotFollowed(int code) {
        assertThat(send("/" + code, List.of(NEW)))
                .isInstanceOfSatisfying(
                        Outcome.Again.class, again -> assertThat(again.detail()).startsWith("answered " + code));
        assertThat(received).extracting(Received::path).containsExactly("/" + code);
    }

    @Test
    void failures_areTriedAgain_asLateAsTheReceiverAsks() {
        assertThat(send("/broken", List.of(NEW))).isEqualTo(new Outcome.Again("answered 500", Optional.empty()));
        assertThat(send("/busy", List.of(NEW)))
                .isEqualTo(new Outcome.Again("answered 429", Optional.of(Duration.ofHours(1))));
        assertThat(send("/gone", List.of(NEW))).isInstanceOf(Outcome.Gone.class);
    }

    @Test
    void slowReceiver_endsAtTheTimeLimit() {
        assertThat(send("/slow", List.of(NEW))).isInstanceOf(Outcome.Again.class);
    }

    @Test
    void endlessAnswer_isNotReadToItsEnd_andTheNoticeWasTaken() {
        assertThat(send("/talks", List.of(NEW))).isEqualTo(new Outcome.Sent("answered 200"));
    }

    @Test
    void nobodyListens_isTriedAgain() {
        server.stop(0);
        assertThat(send("/in", List.of(NEW)))
                .isInstanceOfSatisfying(
                        Outcome.Again.class, again -> assertThat(again.detail()).startsWith("no answer"));
    }

    /** By name and by number, in the ways that a URL can write them. */
    @Test
    void privateAddress_isRefusedBeforeAnythingIsSent() {
        try (WebhookSender guarded =
                new WebhookSender(new TargetGuard(false), "https://rimecast.example", Duration.ofSeconds(2))) {
            for (String host : List.of("localhost", "127.0.0.1", "[::1]", "[::ffff:127.0.0.1]")) {
                URI url =
                        URI.create("http://" + host + ':' + server.getAddress().getPort() + "/in");
                assertThat(guarded.send(new Channel.Webhook(url, List.of(NEW)), message()))
                        .as(host)
                        .isInstanceOf(Outcome.Refused.class);
            }
        }
        assertThat(received).isEmpty();
    }

    /** A name whose answer changes between two questions is asked once for a try, and the connection goes where that led. */
    @Test
    void nameThatChangesItsMind_isAskedOnce_andWhatItSaidIsWhatIsLookedAt() {
        AtomicInteger asked = new AtomicInteger();
        Rebinding inThenNowhere = new Rebinding(asked, "127.0.0.1", "127.0.0.2");
        URI url = URI.create("http://desk.example:" + server.getAddress().getPort() + "/in");
        try (WebhookSender open = new WebhookSender(
                new TargetGuard(true, inThenNowhere), "https://rimecast.example", Duration.ofSeconds(2))) {
            assertThat(open.send(new Channel.Webhook(url, List.of(NEW)), message()))
                    .isInstanceOf(Outcome.Sent.class);
            assertThat(asked).hasValue(1);
        }
        received.clear();
        Rebinding inside = new Rebinding(new AtomicInteger(), "127.0.0.1", "198.51.100.7");
        try (WebhookSender guarded =
                new WebhookSender(new TargetGuard(false, inside), "https://rimecast.example", Duration.ofSeconds(2))) {
            assertThat(guarded.send(new Channel.Webhook(url, List.of(NEW)), message()))
                    .isInstanceOf(Outcome.Refused.class);
        }
        assertThat(received).isEmpty();
    }

    /** Public when it is looked at, private when it would be asked again: what a rebinding name does. Where the packets go is what counts. */
    @Test
    void nameThatIsPublicFirstAndPrivateThen_reachesNothingInside() {
        AtomicInteger asked = new AtomicInteger();
        Rebinding outThenIn = new Rebinding(asked, "1.1.1.1", "127.0.0.1");
        Queue<String> connected = new ConcurrentLinkedQueue<>();
        URI url = URI.create("http://desk.example:" + server.getAddress().getPort() + "/in");
        Channel.Webhook desk = new Channel.Webhook(url, List.of(NEW));
        try (WebhookSender guarded = new WebhookSender(
                new TargetGuard(false, outThenIn), "https://rimecast.example", Duration.ofSeconds(10), to -> {
                    InetSocketAddress address = (InetSocketAddress) to;
                    connected.add(address.getAddress().getHostAddress());
                    return new InetSocketAddress(
                            InetAddress.getLoopbackAddress(),
                            server.getAddress().getPort());
                })) {
            assertThat(guarded.send(desk, message())).isInstanceOf(Outcome.Sent.class);
            assertThat(connected)
                    .as("the one address that was looked at, and not what the name says by now")
                    .containsExactly("1.1.1.1");
            assertThat(asked).hasValue(1);
        }
        received.clear();
        try (WebhookSender next = new WebhookSender(
                new TargetGuard(false, outThenIn), "https://rimecast.example", Duration.ofSeconds(10), to -> {
                    connected.add(to.toString());
                    return to;
                })) {
            assertThat(next.send(desk, message())).isInstanceOf(Outcome.Refused.class);
        }
        assertThat(connected).hasSize(1);
        assertThat(received).isEmpty();
    }

    /** Last of all, whoever has asked for the name and whatever came of it. */
    @ParameterizedTest
    @ValueSource(
            strings = {
                "127.0.0.1",
                "::1",
                "::ffff:127.0.0.1",
                "10.0.0.1",
                "100.64.0.1",
                "169.254.169.254",
                "0.0.0.0",
                "224.0.0.1",
                "fe80::1",
                "fd00::1",
                "64:ff9b::7f00:1"
            })
    void socket_doesNotConnectInside(String address) throws Exception {
        Queue<SocketAddress> connected = new ConcurrentLinkedQueue<>();
        GuardedSockets sockets = new GuardedSockets(new TargetGuard(false), to -> {
            connected.add(to);
            return new InetSocketAddress(
                    InetAddress.getLoopbackAddress(), server.getAddress().getPort());
        });
        try (Socket socket = sockets.socket()) {
            InetSocketAddress to = new InetSocketAddress(
                    InetAddress.getByName(address), server.getAddress().getPort());
            assertThatThrownBy(() -> socket.connect(to, 1_000)).isInstanceOf(TargetGuard.Forbidden.class);
            assertThat(socket.isConnected()).isFalse();
        }
        assertThat(connected).isEmpty();
    }

    /** Says one thing first, and another from then on. */
    private record Rebinding(AtomicInteger asked, String first, String then) implements DnsResolver {
        @Override
        public InetAddress[] resolve(String host) throws UnknownHostException {
            return new InetAddress[] {InetAddress.getByName(asked.getAndIncrement() == 0 ? first : then)};
        }

        @Override
        public String resolveCanonicalHostname(String host) {
            return host;
        }
    }

    private Outcome send(String path, List<WebhookSecret> secrets) {
        return sender.send(new Channel.Webhook(url(path), secrets), message());
    }

    private URI url(String path) {
        return URI.create("http://127.0.0.1:" + server.getAddress().getPort() + path);
    }

    private static Message message() {
        Content content = new Content(
                NOW.minusSeconds(5),
                "Ice, & more",
                "Look.",
                List.of(),
                "https://rimecast.example/cases#1",
                Map.of("case", "case-1", "machines", List.of("a", "b"), "iceAtRisk", true));
        return new Message(ID, "raised", content, NOW);
    }

    private static WebhookSecret secret(int fill) {
        byte[] key = new byte[32];
        java.util.Arrays.fill(key, (byte) fill);
        return WebhookSecret.parse("whsec_" + Base64.getEncoder().encodeToString(key));
    }
}
