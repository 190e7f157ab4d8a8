package dev.rimecast.ingest.broker;

import dev.rimecast.telemetry.log.PackNumber;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.LongSupplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * What each gateway may still bring through the broker: neither is a backlog lost, nor are others drowned.
 *
 * <p>Within {@link BrokerLimits} everything is taken. Beyond, a pack with a number is let go: acknowledged to the broker, counted, and kept nowhere here.
 * The gateway is not told that we have it, so its store keeps it, and sends it again ({@link SentAgain}). A pack without a number has nobody who keeps
 * it: it becomes a reject with its reason, kept whole, to be taken again on demand; of those, too, no more than {@link #KEPT_REJECTS} at once.
 *
 * <p>Gateways in no register share one allowance: names cost nothing, and must not fill the memory. Not for use by several threads.
 */
final class Allowances {
    private static final Logger log = LoggerFactory.getLogger(Allowances.class);
    /** Rejects that are kept of one gateway after a rest. */
    static final int KEPT_REJECTS = 1_000;
    /** And sustained, a second. */
    static final double KEPT_REJECTS_PER_SECOND = 1;

    private static final long TELL_EVERY_NANOS = 60_000_000_000L;

    private final BrokerLimits limits;
    private final Function<String, Optional<PackNumber>> acknowledged;
    private final LongSupplier nanos;
    private final Map<String, Allowance> ofGateways = new HashMap<>();
    private final Allowance ofTheUnregistered;

    /** What to do with a message. */
    enum Verdict {
        TAKE,
        REJECT,
        LET_GO
    }

    /**
     * @param acknowledged what a gateway was told last
     * @param nanos of a monotonic clock
     */
    Allowances(BrokerLimits limits, Function<String, Optional<PackNumber>> acknowledged, LongSupplier nanos) {
        this.limits = limits;
        this.acknowledged = acknowledged;
        this.nanos = nanos;
        this.ofTheUnregistered = new Allowance(new SentAgain(Optional::empty), nanos.getAsLong());
    }

    /**
     * Counts a message.
     *
     * @param gateway in the register; empty: of any other name
     * @param number the gateway's own count
     * @param bytes of its payload
     */
    Verdict judge(Optional<String> gateway, Optional<PackNumber> number, int bytes) {
        if (limits.isNone()) {
            return Verdict.TAKE;
        }
        long now = nanos.getAsLong();
        int cost = 1 + Math.max(0, bytes - 1) / BrokerLimits.BYTES;
        // Of the unregistered one can't know whose number it is.
        Verdict verdict = gateway.map(name -> ofGateways
                        .computeIfAbsent(name, any -> new Allowance(new SentAgain(() -> acknowledged.apply(name)), now))
                        .judge(number, cost, now))
                .orElseGet(() -> ofTheUnregistered.judge(Optional.empty(), cost, now));
        if (verdict != Verdict.TAKE) {
            gateway.map(ofGateways::get).orElse(ofTheUnregistered).tell(gateway.orElse("in no register"), verdict, now);
        }
        return verdict;
    }

    private final class Allowance {
        private final Bucket packs;
        private final Bucket rejects;
        private final SentAgain sentAgain;
        private long toldAt;
        private boolean isTold;
        /** Whether what was let go last is beyond the window, and not beyond the rate. */
        private boolean isTooFarAhead;

        Allowance(SentAgain sentAgain, long now) {
            this.sentAgain = sentAgain;
            packs = new Bucket(limits.packsPerSecond(), limits.backlogPacks(), now);
            rejects = new Bucket(KEPT_REJECTS_PER_SECOND, KEPT_REJECTS, now);
        }

        Verdict judge(Optional<PackNumber> number, int cost, long now) {
            if (number.isPresent()) {
                isTooFarAhead = !sentAgain.mayCome(number.get(), now);
                if (!isTooFarAhead && packs.take(cost, now)) {
                    return Verdict.TAKE;
                }
                sentAgain.letGo(number.get(), now);
                return Verdict.LET_GO;
            }
            isTooFarAhead = false;
            if (packs.take(cost, now)) {
                return Verdict.TAKE;
            }
            return rejects.take(cost, now) ? Verdict.REJECT : Verdict.LET_GO;
        }

        /** A line a minute and gateway. */
        void tell(String gateway, Verdict verdict, long now) {
            if (!isTold || now - toldAt > TELL_EVERY_NANOS) {
                isTold = true;
                toldAt = now;
                if (isTooFarAhead) {
                    log.warn(
                            "gateway {} brings packs more than {} ahead of what is acknowledged to it, while some before may be missing: they are counted and not kept, and it is to send them again",
                            gateway,
                            SentAgain.AHEAD);
                    return;
                }
                log.warn(
                        "gateway {} brings more through the broker than mqtt-broker.packs-per-second and .backlog-packs allow: {}",
                        gateway,
                        verdict == Verdict.REJECT
                                ? "what is over is kept among the rejects"
                                : "what is over is counted and not kept; what it has numbered it is to send again");
            }
        }
    }

    /** Tokens that come back steadily; what there are too few for takes none. */
    private static final class Bucket {
        private final double perSecond;
        private final double most;
        private double tokens;
        private long refilledAt;

        Bucket(double perSecond, double most, long now) {
            this.perSecond = perSecond;
            this.most = most;
            this.tokens = most;
            this.refilledAt = now;
        }

        boolean take(int cost, long now) {
            tokens = Math.min(most, tokens + (now - refilledAt) / 1e9 * perSecond);
            refilledAt = now;
            if (tokens < cost) {
                return false;
            }
            tokens -= cost;
            return true;
        }
    }
}
