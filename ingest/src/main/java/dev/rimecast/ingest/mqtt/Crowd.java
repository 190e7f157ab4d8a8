package dev.rimecast.ingest.mqtt;

import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.atomic.AtomicLong;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * The connections of each gateway, of which there are only so many. One more ends the oldest, not itself: a gateway whose line breaks leaves
 * connections behind whose end nobody hears for a while, and they must not keep it out. Touched by the event loop only.
 */
final class Crowd {
    private static final Logger log = LoggerFactory.getLogger(Crowd.class);

    /** One of them. */
    interface Member {
        /** Another one of the same gateway takes its place. */
        void giveWay();
    }

    private final int most;
    private final Map<String, Set<Member>> ofGateways = new HashMap<>();
    private final AtomicLong ended = new AtomicLong();

    /** @param most of one gateway; 0: any number */
    Crowd(int most) {
        this.most = most;
    }

    /** It speaks for this gateway from now on; a second time changes nothing. */
    void join(String gateway, Member connection) {
        Set<Member> all = ofGateways.computeIfAbsent(gateway, any -> new LinkedHashSet<>());
        if (!all.add(connection) || most == 0 || all.size() <= most) {
            return;
        }
        Member oldest = all.iterator().next();
        all.remove(oldest);
        ended.incrementAndGet();
        log.info("gateway {} has more than {} connections: the oldest is ended", gateway, most);
        oldest.giveWay();
    }

    /** It is over. */
    void leave(String gateway, Member connection) {
        Set<Member> all = ofGateways.get(gateway);
        if (all != null && all.remove(connection) && all.isEmpty()) {
            ofGateways.remove(gateway);
        }
    }

    /** Connections that had to give way, since the start. */
    long ended() {
        return ended.get();
    }
}
