package dev.rimecast.alerts.notice.outbox;

import dev.rimecast.alerts.notice.Channel;
import dev.rimecast.alerts.notice.NoticeBook;
import dev.rimecast.alerts.notice.outbox.ClaimStore.Claim;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;

/**
 * What a process is sending: to each receiver one at a time, and along each way (the mail server, a host of webhooks) so many at once.
 * What would be one more is not claimed, so a slow receiver holds up itself, and a slow host those that are behind it, and nobody else.
 */
final class UnderWay {
    static final int MOST_ALONG_A_WAY = 4;

    private static final String MAIL = "mail";

    private final NoticeBook book;
    private final Map<String, Going> byReceiver = new ConcurrentHashMap<>();

    private record Going(Claim claim, String way) {}

    /**
     * Who gets nothing more at the moment.
     *
     * @param mail nor does anybody who is not in the book: links go by mail to whoever they were made for
     */
    record Blocked(List<String> receivers, boolean mail) {}

    UnderWay(NoticeBook book) {
        this.book = book;
    }

    void begins(Claim claim, Optional<Channel> channel) {
        byReceiver.put(
                claim.receiver(), new Going(claim, channel.map(UnderWay::way).orElse("")));
    }

    void ends(Claim claim) {
        byReceiver.remove(claim.receiver());
    }

    Collection<Claim> claims() {
        return byReceiver.values().stream().map(Going::claim).toList();
    }

    Blocked blocked() {
        List<String> ways = byReceiver.values().stream().map(Going::way).toList();
        Set<String> full = new HashSet<>(ways);
        full.removeIf(way -> way.isEmpty() || Collections.frequency(ways, way) < MOST_ALONG_A_WAY);
        List<String> receivers = new ArrayList<>(byReceiver.keySet());
        if (!full.isEmpty()) {
            book.receivers().forEach((name, receiver) -> {
                if (full.contains(way(receiver.channel()))) {
                    receivers.add(name);
                }
            });
        }
        return new Blocked(receivers, full.contains(MAIL));
    }

    private static String way(Channel channel) {
        if (channel instanceof Channel.Webhook webhook) {
            return webhook.url().getHost() + ':' + webhook.url().getPort();
        }
        return channel instanceof Channel.Mail ? MAIL : "";
    }
}
