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
 * failed at for an hour is forgotten, of an account's one-time codes after a day: otherwise whoever guesses would rest for
 * an hour and begin with the free ones again. The newest {@value #MOST} counts are kept in memory; a restart forgets them.
 */
final class Throttle {
    private static final int MOST = 10_000;
    private static final Duration AN_HOUR = Duration.ofHours(1);

    /**
     * @param free attempts that may fail at once; the next one waits for a second
     * @param forgottenAfter so long after the last failure it begins anew
     */
    private record Limit(String prefix, int free, Duration longestWait, Duration forgottenAfter) {}

    private static final Limit ADDRESS = new Limit("address", 30, Duration.ofMinutes(5), AN_HOUR);
    private static final Limit PAIR = new Limit("pair", 5, Duration.ofMinutes(5), AN_HOUR);
    private static final Limit ACCOUNT = new Limit("account", 50, Duration.ofSeconds(10), AN_HOUR);

    /**
     * Of one-time codes: three of a million are right at any time. Somebody who has the password and guesses from everywhere
     * has 20 guesses within the first half an hour and then four an hour, or those 20 once a day: at most 40,000 in 10,000
     * hours (14 months), which find one with a chance of 1 - (1 - 3e-6)^40,000 = 11 in 100. Who guesses can keep the person
     * waiting, too, and each guess is in the audit.
     */
    private static final Limit ACCOUNT_CODES = new Limit("account", 10, Duration.ofMinutes(15), Duration.ofDays(1));

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

    /**
     * Takes the attempt back, and forgets the failures of this account from this address; not those from elsewhere, or a
     * person who signs in each morning would give whoever guesses the free ones again.
     */
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
        if (count == null || isForgotten(key, count, now)) {
            return Duration.ZERO;
        }
        Duration left = Duration.between(now, count.last().plus(count.waitAfter()));
        return left.isNegative() ? Duration.ZERO : left;
    }

    private void count(Key key, Instant now) {
        Count before = counts.get(key);
        int failures = before == null || isForgotten(key, before, now) ? 1 : before.failures() + 1;
        counts.put(key, new Count(failures, now, wait(key.limit(), failures)));
    }

    private static boolean isForgotten(Key key, Count count, Instant now) {
        return count.last().plus(key.limit().forgottenAfter()).isBefore(now);
    }

    /** 1 s after the last failure that is free, then twice as long each time. */
    private static Duration wait(Limit limit, int failures) {
        int beyond = failures - limit.free();
        if (beyond < 0) {
            return Duration.ZERO;
        }
        Duration wait = Duration.ofSeconds(1L << Math.min(beyond, 20));
        return wait.compareTo(limit.longestWait()) > 0 ? limit.longestWait() : wait;
    }
}
