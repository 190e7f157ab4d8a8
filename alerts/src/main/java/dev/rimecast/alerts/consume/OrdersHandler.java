package dev.rimecast.alerts.consume;

import dev.rimecast.alerts.view.Changes.Change;
import dev.rimecast.telemetry.log.DeadLetterHeaders;
import dev.rimecast.telemetry.log.Topics;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.apache.kafka.common.header.Header;
import org.apache.kafka.common.header.Headers;
import org.jdbi.v3.core.Handle;

/**
 * Orders in the topic of dead letters to take one again: the record goes where it would have gone. What the letters'
 * topics hold knows by itself what is older than what is known, so it may come behind it. Everything else in the topic is left alone.
 */
final class OrdersHandler implements TopicHandler<Optional<OrdersHandler.Order<?>>> {
    private final Map<String, TopicHandler<?>> handlers = new LinkedHashMap<>();

    /** A record and what takes it in. */
    record Order<T>(TopicHandler<T> handler, T content) {
        Collection<Change> apply(Handle transaction) {
            return handler.apply(transaction, List.of(content));
        }
    }

    /** @param handlers of their own: none is shared with another thread */
    OrdersHandler(List<TopicHandler<?>> handlers) {
        handlers.forEach(handler -> this.handlers.put(handler.topic(), handler));
    }

    @Override
    public String topic() {
        return Topics.DEAD_LETTERS;
    }

    @Override
    public Optional<Order<?>> decode(String key, byte[] value, Headers headers) {
        if (headers.lastHeader(DeadLetterHeaders.REPLAYED) == null) {
            return Optional.empty();
        }
        Header topic = headers.lastHeader(DeadLetterHeaders.TOPIC);
        TopicHandler<?> handler =
                topic == null ? null : handlers.get(new String(topic.value(), StandardCharsets.UTF_8));
        return handler == null ? Optional.empty() : Optional.of(order(handler, key, value, headers));
    }

    private static <T> Order<T> order(TopicHandler<T> handler, String key, byte[] value, Headers headers) {
        return new Order<>(handler, handler.decode(key, value, headers));
    }

    @Override
    public Collection<Change> apply(Handle transaction, List<Optional<Order<?>>> records) {
        List<Change> changes = new ArrayList<>();
        for (Optional<Order<?>> each : records) {
            each.ifPresent(order -> changes.addAll(order.apply(transaction)));
        }
        return changes;
    }

    @Override
    public void committed() {
        handlers.values().forEach(TopicHandler::committed);
    }

    @Override
    public void forget() {
        handlers.values().forEach(TopicHandler::forget);
    }
}
