package dev.rimecast.alerts.people;

import java.time.Duration;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/**
 * Slows down guessing without locking anybody out. Each failure after the free ones doubles the wait before the next
 * attempt, up to a bound. Failures count for the account from one address, for the address, and for the account from
 * anywhere; the last has the shortest wait, so that strangers who guess cost the person seconds, not the access.
 *
 * <p>An attempt counts as failed until {@link #succeeded} takes it back, so many at once don't slip through. What nobody
 * failed at for an hour is forgotten. The newest {@value #MOST} counts are kept in memory; a restart forgets them.
 */
final class Throttle {
    private static final int MOST = 10_000;
    private static final Duration FORGOTTEN_AFTER = Duration.ofHours(1);

    /** @param free failures that cost no wait */
    private record Limit(String prefix, int free, Duration longestWait) {}

    private static final Limit ADDRESS = new Limit("address", 30, Duration.ofMinutes(5));
    private static final Limit PAIR = new Limit("pair", 5, Duration.ofMinutes(5));
    private static final Limit ACCOUNT = new Limit("account", 50, Duration.ofSeconds(10));

    /**
     * Of one-time codes: three of a million are right at any time, so that this lets somebody who has the password find one in 10,000 hours
     * of guessing from everywhere with a chance of one in nine hundred. Who guesses can keep the person waiting, too, and is in the audit.
     */
    private static final Limit ACCOUNT_CODES = new Limit("account", 10, Duration.ofMinutes(15));

    private record Count(int failures, Instant last, Duration waitAfter) {}

    private record Key(Limit limit, String who) {}

    private final Map<Key, Count> counts = new LinkedHashMap<>(64, 0.75f, true) {
        @Override
        protected boolean removeEldestEntry(Map.Entry<Key, Count> eldest) {
            return size() > MOST;
        }
    };

    private final Limit account;

    /** Of passwords. */
    Throttle() {
        this(ACCOUNT);
    }

    private Throttle(Limit account) {
        this.account = account;
    }

    static Throttle ofCodes() {
        return new Throttle(ACCOUNT_CODES);
    }

    /**
     * Asks for an attempt and counts it.
     *
     * @return how long to wait before it; zero where it may be made now
     */
    synchronized Duration attempt(String name, String address, Instant now) {
        Duration longest = Duration.ZERO;
        for (Key key : keys(name, address)) {
            Duration left = left(key, now);
            longest = left.compareTo(longest) > 0 ? left : longest;
        }
        if (longest.isZero()) {
            keys(name, address).forEach(key -> count(key, now));
        }
        return longest;
    }

    /** Takes the attempt back, and forgets the failures of this account from this address. */
    synchronized void succeeded(String name, String address) {
        List<Key> keys = keys(name, address);
        counts.remove(keys.get(0));
        keys.subList(1, keys.size())
                .forEach(key -> counts.computeIfPresent(
                        key,
                        (k, count) -> count.failures() <= 1
                                ? null
                                : new Count(count.failures() - 1, count.last(), Duration.ZERO)));
    }

    private List<Key> keys(String name, String address) {
        String who = name.toLowerCase(Locale.ROOT);
        return List.of(new Key(PAIR, who + '\n' + address), new Key(ADDRESS, address), new Key(account, who));
    }

    private Duration left(Key key, Instant now) {
        Count count = counts.get(key);
        if (count == null || isForgotten(count, now)) {
            return Duration.ZERO;
        }
        Duration left = Duration.between(now, count.last().plus(count.waitAfter()));
        return left.isNegative() ? Duration.ZERO : left;
    }

    private void count(Key key, Instant now) {
        Count before = counts.get(key);
        int failures = before == null || isForgotten(before, now) ? 1 : before.failures() + 1;
        counts.put(key, new Count(failures, now, wait(key.limit(), failures)));
    }

    private static boolean isForgotten(Count count, Instant now) {
        return count.last().plus(FORGOTTEN_AFTER).isBefore(now);
    }

    /** 1 s after the first failure that is not free, then twice as long each time. */
    private static Duration wait(Limit limit, int failures) {
        int beyond = failures - limit.free();
        if (beyond < 0) {
            return Duration.ZERO;
        }
        Duration wait = Duration.ofSeconds(1L << Math.min(beyond, 20));
        return wait.compareTo(limit.longestWait()) > 0 ? limit.longestWait() : wait;
    }
}
