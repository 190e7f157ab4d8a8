package dev.rimecast.alerts.notice.outbox;

import dev.rimecast.alerts.notice.Channel;
import dev.rimecast.alerts.notice.NoticeBook;
import dev.rimecast.alerts.notice.Receiver;
import dev.rimecast.alerts.notice.send.Message;
import dev.rimecast.alerts.notice.send.Outcome;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.BiFunction;

/** Receivers that remember what came, and answer as they are told to. */
final class Inboxes {
    private final NoticeBook book;
    private final Map<String, List<Message>> messages = new HashMap<>();
    private final Map<String, Outcome> answers = new HashMap<>();
    private BiFunction<String, Message, Optional<Outcome>> mood = Inboxes::asTold;

    Inboxes(NoticeBook book) {
        this.book = book;
    }

    Outcome take(Channel channel, Message message) {
        String receiver = book.receivers().values().stream()
                .filter(known -> known.channel() == channel)
                .map(Receiver::name)
                .findFirst()
                .orElseGet(channel::target);
        messages.computeIfAbsent(receiver, r -> new ArrayList<>()).add(message);
        return mood.apply(receiver, message).orElseGet(() -> answers.getOrDefault(receiver, new Outcome.Sent("fine")));
    }

    /** From now on; who was never told takes everything. */
    void answer(String receiver, Outcome outcome) {
        answers.put(receiver, outcome);
    }

    private static Optional<Outcome> asTold(String receiver, Message message) {
        return Optional.empty();
    }

    /** Asked for each message, before what was told once; it may end the process. */
    void behave(BiFunction<String, Message, Optional<Outcome>> newMood) {
        mood = newMood;
    }

    void empty() {
        messages.clear();
    }

    void begin() {
        messages.clear();
        answers.clear();
        mood = Inboxes::asTold;
    }

    Collection<List<Message>> all() {
        return messages.values();
    }

    List<Message> messages(String receiver) {
        return messages.getOrDefault(receiver, List.of());
    }

    /** Kinds of all that arrived, repeats included. */
    List<String> arrived(String receiver) {
        return messages(receiver).stream().map(Message::kind).toList();
    }

    /** Kinds of all that arrived, each id once. */
    List<String> distinct(String receiver) {
        Map<UUID, String> kinds = new LinkedHashMap<>();
        messages(receiver).forEach(message -> kinds.putIfAbsent(message.id(), message.kind()));
        return List.copyOf(kinds.values());
    }
}
