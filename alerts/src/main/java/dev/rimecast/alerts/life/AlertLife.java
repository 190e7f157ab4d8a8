package dev.rimecast.alerts.life;

import dev.rimecast.alerts.view.AlertState;
import java.util.Optional;

/**
 * Where an alert is in its life, in the states of ISA-18.2 / IEC 62682. What the machine does, {@link #present} and
 * {@link #gone}, every state answers. What people and rules do is a method of the states that allow it, so that an
 * illegal transition does not compile; the database refuses it, too (table {@code alert_step}).
 *
 * <pre>
 *   normal ──present──▶ unacknowledged ──acknowledge──▶ acknowledged
 *     ▲                  │   ▲   ▲                        │   │
 *     │                gone present └─present, if worse───┘ gone
 *     │                  ▼   │                                │
 *     ├──acknowledge── returned, unacknowledged               │
 *     └───────────────────────────────────────────────────────┘
 *
 *   of a kind that latches, gone leads elsewhere:
 *   unacknowledged ──▶ latched, unacknowledged ──acknowledge──▶ latched, acknowledged ──reset──▶ normal
 *   latched, unacknowledged ──reset──▶ returned, unacknowledged
 *
 *   unacknowledged, acknowledged ──▶ shelved, suppressed by design, out of service ──release──▶ unacknowledged
 * </pre>
 *
 * What is gone while it is held is over: whoever holds it knows. What is released from a suppression stays acknowledged
 * if it is no worse than what was seen, since a bin that fills and empties must not ask again each time. Every state but
 * normal can also be {@code superseded}: the same condition was raised on the same machine anew.
 */
public sealed interface AlertLife {

    AlertState state();

    /** The condition is there, as bad as this. */
    AlertLife present(Severity now);

    /**
     * The condition is not there.
     *
     * @param latches whether its kind must be looked at and reset
     */
    AlertLife gone(boolean latches);

    /** Asks for somebody, now or once it is released. */
    sealed interface Open extends AlertLife {
        default Normal superseded() {
            return new Normal();
        }
    }

    /** Somebody can say that it was seen. */
    sealed interface Acknowledgeable extends Open {
        AlertLife acknowledge();
    }

    /** Somebody can say that what made it latch was looked at. */
    sealed interface Resettable extends Open {
        AlertLife reset();
    }

    /** It is there, so it can be kept from counting. */
    sealed interface Present extends Open {
        Severity now();

        /** How bad it was when somebody saw it, where somebody did and that still stands. */
        Optional<Severity> seen();

        default Shelved shelve() {
            return new Shelved(now());
        }

        default Suppressed suppress() {
            return new Suppressed(now(), seen());
        }

        default OutOfService takeOutOfService() {
            return new OutOfService(now());
        }
    }

    /** It is there and does not count. */
    sealed interface Held extends Present {
        @Override
        default Normal gone(boolean latches) {
            return new Normal();
        }

        AlertLife release();
    }

    /** Nothing to see: before the raise, or over and seen. */
    record Normal() implements AlertLife {
        @Override
        public AlertState state() {
            return AlertState.NORMAL;
        }

        @Override
        public Unacknowledged present(Severity now) {
            return new Unacknowledged(now);
        }

        @Override
        public Normal gone(boolean latches) {
            return this;
        }
    }

    /** Raised, and nobody has seen it. */
    record Unacknowledged(Severity now) implements Present, Acknowledgeable {
        @Override
        public AlertState state() {
            return AlertState.UNACKNOWLEDGED;
        }

        @Override
        public Optional<Severity> seen() {
            return Optional.empty();
        }

        @Override
        public Unacknowledged present(Severity changed) {
            return new Unacknowledged(changed);
        }

        @Override
        public Acknowledged acknowledge() {
            return new Acknowledged(now, now);
        }

        @Override
        public AlertLife gone(boolean latches) {
            return latches ? new LatchedUnacknowledged() : new ReturnedUnacknowledged();
        }
    }

    /**
     * Raised and seen.
     *
     * @param whenSeen how bad it was when somebody saw it: only what is worse than that needs to be seen again
     */
    record Acknowledged(Severity now, Severity whenSeen) implements Present {
        @Override
        public AlertState state() {
            return AlertState.ACKNOWLEDGED;
        }

        @Override
        public Optional<Severity> seen() {
            return Optional.of(whenSeen);
        }

        /** Stays acknowledged, or is raised again because it has got worse than what was seen. */
        @Override
        public AlertLife present(Severity changed) {
            return changed.isWorseThan(whenSeen) ? new Unacknowledged(changed) : new Acknowledged(changed, whenSeen);
        }

        /** The acknowledgement ends by itself. */
        @Override
        public AlertLife gone(boolean latches) {
            return latches ? new LatchedAcknowledged() : new Normal();
        }
    }

    /** Over, but nobody has seen that it was there. */
    record ReturnedUnacknowledged() implements Acknowledgeable {
        @Override
        public AlertState state() {
            return AlertState.RETURNED_UNACKNOWLEDGED;
        }

        @Override
        public Unacknowledged present(Severity now) {
            return new Unacknowledged(now);
        }

        @Override
        public Normal acknowledge() {
            return new Normal();
        }

        @Override
        public ReturnedUnacknowledged gone(boolean latches) {
            return this;
        }
    }

    /** Over by itself, to be reset, and nobody has seen it. */
    record LatchedUnacknowledged() implements Acknowledgeable, Resettable {
        @Override
        public AlertState state() {
            return AlertState.LATCHED_UNACKNOWLEDGED;
        }

        @Override
        public Unacknowledged present(Severity now) {
            return new Unacknowledged(now);
        }

        @Override
        public LatchedAcknowledged acknowledge() {
            return new LatchedAcknowledged();
        }

        @Override
        public ReturnedUnacknowledged reset() {
            return new ReturnedUnacknowledged();
        }

        @Override
        public LatchedUnacknowledged gone(boolean latches) {
            return this;
        }
    }

    /** Over by itself and seen, to be reset. */
    record LatchedAcknowledged() implements Resettable {
        @Override
        public AlertState state() {
            return AlertState.LATCHED_ACKNOWLEDGED;
        }

        @Override
        public Unacknowledged present(Severity now) {
            return new Unacknowledged(now);
        }

        @Override
        public Normal reset() {
            return new Normal();
        }

        @Override
        public LatchedAcknowledged gone(boolean latches) {
            return this;
        }
    }

    /** Put aside by a person until a moment. */
    record Shelved(Severity now) implements Held {
        @Override
        public AlertState state() {
            return AlertState.SHELVED;
        }

        @Override
        public Optional<Severity> seen() {
            return Optional.empty();
        }

        @Override
        public Shelved present(Severity changed) {
            return new Shelved(changed);
        }

        @Override
        public Unacknowledged release() {
            return new Unacknowledged(now);
        }
    }

    /**
     * Means nothing while something else is known.
     *
     * @param seen how bad it was when somebody saw it, before it was suppressed
     */
    record Suppressed(Severity now, Optional<Severity> seen) implements Held {
        @Override
        public AlertState state() {
            return AlertState.SUPPRESSED_BY_DESIGN;
        }

        @Override
        public Suppressed present(Severity changed) {
            return new Suppressed(changed, seen);
        }

        @Override
        public AlertLife release() {
            return seen.filter(before -> !now.isWorseThan(before))
                    .<AlertLife>map(before -> new Acknowledged(now, before))
                    .orElseGet(() -> new Unacknowledged(now));
        }
    }

    /** On a machine, or of a kind, that was taken out of service. */
    record OutOfService(Severity now) implements Held {
        @Override
        public AlertState state() {
            return AlertState.OUT_OF_SERVICE;
        }

        @Override
        public Optional<Severity> seen() {
            return Optional.empty();
        }

        @Override
        public OutOfService present(Severity changed) {
            return new OutOfService(changed);
        }

        @Override
        public Unacknowledged release() {
            return new Unacknowledged(now);
        }
    }
}
