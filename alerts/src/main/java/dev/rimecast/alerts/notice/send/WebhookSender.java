package dev.rimecast.alerts.notice.send;

import dev.rimecast.alerts.notice.Channel;
import dev.rimecast.alerts.notice.text.CloudEvent;
import java.io.IOException;
import java.net.SocketAddress;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;
import org.apache.hc.client5.http.classic.methods.HttpPost;
import org.apache.hc.client5.http.config.ConnectionConfig;
import org.apache.hc.client5.http.config.RequestConfig;
import org.apache.hc.client5.http.impl.classic.CloseableHttpClient;
import org.apache.hc.client5.http.impl.classic.HttpClients;
import org.apache.hc.core5.http.ClassicHttpResponse;
import org.apache.hc.core5.http.ContentType;
import org.apache.hc.core5.http.Header;
import org.apache.hc.core5.http.HttpEntity;
import org.apache.hc.core5.http.io.entity.ByteArrayEntity;
import org.apache.hc.core5.util.Timeout;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Webhooks: a CloudEvent in structured mode, signed as Standard Webhooks 1.0.0 has it. Redirects are not followed, an
 * attempt has one time limit whatever the receiver does, and of its answer no more than 64 KiB is read.
 */
public final class WebhookSender implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(WebhookSender.class);
    static final int MOST_ANSWER_BYTES = 64 * 1024;

    private static final int GONE = 410;
    /** As many as are sent at once along one way, so that none waits here with its time limit running. */
    private static final int MOST_TO_A_HOST = 4;
    /** More than there are receivers: slow hosts must not use them up. */
    private static final int MOST_CONNECTIONS = 1_000;

    private final CloseableHttpClient client;
    private final String source;
    private final Duration timeout;
    private final ScheduledExecutorService deadlines = Executors.newSingleThreadScheduledExecutor(task -> {
        Thread thread = new Thread(task, "webhook-deadlines");
        thread.setDaemon(true);
        return thread;
    });

    /**
     * @param source CloudEvents source: where the pages are
     * @param timeout for a whole attempt
     */
    public WebhookSender(TargetGuard guard, String source, Duration timeout) {
        this(guard, source, timeout, UnaryOperator.identity());
    }

    /** @param wires see {@link GuardedSockets} */
    WebhookSender(TargetGuard guard, String source, Duration timeout, UnaryOperator<SocketAddress> wires) {
        this.source = source;
        this.timeout = timeout;
        Timeout each = Timeout.of(timeout);
        this.client = HttpClients.custom()
                .setConnectionManager(new GuardedSockets(guard, wires)
                        .setDefaultConnectionConfig(ConnectionConfig.custom()
                                .setConnectTimeout(each)
                                .setSocketTimeout(each)
                                .setTimeToLive(Timeout.ofMinutes(1))
                                .build())
                        .setMaxConnPerRoute(MOST_TO_A_HOST)
                        .setMaxConnTotal(MOST_CONNECTIONS)
                        .build())
                .setDefaultRequestConfig(RequestConfig.custom()
                        .setResponseTimeout(each)
                        .setConnectionRequestTimeout(each)
                        .setRedirectsEnabled(false)
                        .build())
                .disableRedirectHandling()
                .disableAutomaticRetries()
                .disableCookieManagement()
                .disableAuthCaching()
                .disableContentCompression()
                .setUserAgent("Rimecast")
                .build();
    }

    Outcome send(Channel.Webhook to, Message message) {
        byte[] body = CloudEvent.encode(message.id(), message.kind(), source, message.content());
        HttpPost post = new HttpPost(to.url());
        String id = message.id().toString();
        long timestamp = message.now().getEpochSecond();
        post.setHeader("webhook-id", id);
        post.setHeader("webhook-timestamp", Long.toString(timestamp));
        post.setHeader(
                "webhook-signature",
                to.secrets().stream()
                        .map(secret -> secret.sign(id, timestamp, body))
                        .collect(Collectors.joining(" ")));
        post.setEntity(new ByteArrayEntity(body, ContentType.parse(CloudEvent.MEDIA_TYPE)));
        Future<?> deadline = deadlines.schedule(post::abort, timeout.toMillis(), TimeUnit.MILLISECONDS);
        try {
            ClassicHttpResponse answer = client.executeOpen(null, post, null);
            Outcome outcome = outcome(answer, message.now());
            readSome(answer);
            return outcome;
        } catch (TargetGuard.Forbidden e) {
            return new Outcome.Refused(String.valueOf(e.getMessage()));
        } catch (IOException e) {
            return Outcome.Again.soon(
                    post.isAborted() ? "no answer within " + timeout.toSeconds() + " s" : "no answer: " + reason(e));
        } finally {
            deadline.cancel(false);
        }
    }

    private static String reason(IOException failure) {
        String message = failure.getMessage();
        return failure.getClass().getSimpleName() + (message == null ? "" : ", " + message);
    }

    private static Outcome outcome(ClassicHttpResponse answer, Instant now) {
        int code = answer.getCode();
        if (code >= 200 && code < 300) {
            return new Outcome.Sent("answered " + code);
        }
        if (code == GONE) {
            return new Outcome.Gone("answered 410: it wants no more notices");
        }
        if (code >= 300 && code < 400) {
            return Outcome.Again.soon("answered " + code
                    + ": it leads elsewhere, which is not followed; put the new address into notices.yaml");
        }
        Header header = answer.getFirstHeader("Retry-After");
        Optional<Duration> notBefore = header == null ? Optional.empty() : RetryAfter.of(header.getValue(), now);
        return new Outcome.Again("answered " + code, notBefore);
    }

    /**
     * Nothing of an answer is used but its status. It is read so that the connection can be used again; one that says too
     * much, or too slowly, loses its connection, and has taken the notice all the same.
     */
    private static void readSome(ClassicHttpResponse answer) {
        try (answer) {
            HttpEntity entity = answer.getEntity();
            if (entity != null) {
                entity.getContent().readNBytes(MOST_ANSWER_BYTES);
            }
        } catch (IOException e) {
            LOG.debug("an answer was not read to its end: {}", e.toString());
        }
    }

    @Override
    public void close() {
        deadlines.shutdownNow();
        client.close(org.apache.hc.core5.io.CloseMode.IMMEDIATE);
    }
}
