package dev.rimecast.alerts.life;

import dev.rimecast.alerts.view.AlertState;
import java.util.function.Function;

/**
 * Where an alert is in its life, in the states of ISA-18.2 / IEC 62682. Each legal transition is a method of the state
 * that allows it, so that an illegal one does not compile.
 *
 * <pre>
 *   normal ──raise──▶ unacknowledged ──acknowledge──▶ acknowledged
 *     ▲                 │   ▲   ▲                       │   │
 *     │               clear raise └──update, if worse───┘ clear
 *     │                 ▼   │                               │
 *     ├─acknowledge── returned, unacknowledged              │
 *     └─────────────────────────────────────────────────────┘
 * </pre>
 *
 * Every state but normal can also be {@code superseded}: the same condition was raised on the same machine anew.
 */
public sealed interface AlertLife {

    AlertState state();

    /** One answer for each state; a new state breaks every caller that has not thought about it. */
    <R> R match(
            Function<Normal, R> normal,
            Function<Unacknowledged, R> unacknowledged,
            Function<Acknowledged, R> acknowledged,
            Function<ReturnedUnacknowledged, R> returned);

    /** Nothing to see: before the raise, or over and seen. */
    record Normal() implements AlertLife {
        public Unacknowledged raise(Severity now) {
            return new Unacknowledged(now);
        }

        @Override
        public AlertState state() {
            return AlertState.NORMAL;
        }

        @Override
        public <R> R match(
                Function<Normal, R> normal,
                Function<Unacknowledged, R> unacknowledged,
                Function<Acknowledged, R> acknowledged,
                Function<ReturnedUnacknowledged, R> returned) {
            return normal.apply(this);
        }
    }

    /** Raised, and nobody has seen it. */
    record Unacknowledged(Severity now) implements AlertLife {
        public Unacknowledged update(Severity changed) {
            return new Unacknowledged(changed);
        }

        public Acknowledged acknowledge() {
            return new Acknowledged(now);
        }

        public ReturnedUnacknowledged clear() {
            return new ReturnedUnacknowledged();
        }

        public Normal superseded() {
            return new Normal();
        }

        @Override
        public AlertState state() {
            return AlertState.UNACKNOWLEDGED;
        }

        @Override
        public <R> R match(
                Function<Normal, R> normal,
                Function<Unacknowledged, R> unacknowledged,
                Function<Acknowledged, R> acknowledged,
                Function<ReturnedUnacknowledged, R> returned) {
            return unacknowledged.apply(this);
        }
    }

    /**
     * Raised and seen.
     *
     * @param seen how bad it was when somebody saw it: only what is worse than that needs to be seen again
     */
    record Acknowledged(Severity seen) implements AlertLife {
        /** Stays acknowledged, or is raised again because it has got worse than what was seen. */
        public AlertLife update(Severity changed) {
            return changed.isWorseThan(seen) ? new Unacknowledged(changed) : this;
        }

        /** The acknowledgement ends by itself. */
        public Normal clear() {
            return new Normal();
        }

        public Normal superseded() {
            return new Normal();
        }

        @Override
        public AlertState state() {
            return AlertState.ACKNOWLEDGED;
        }

        @Override
        public <R> R match(
                Function<Normal, R> normal,
                Function<Unacknowledged, R> unacknowledged,
                Function<Acknowledged, R> acknowledged,
                Function<ReturnedUnacknowledged, R> returned) {
            return acknowledged.apply(this);
        }
    }

    /** Over, but nobody has seen that it was there. */
    record ReturnedUnacknowledged() implements AlertLife {
        public Unacknowledged raise(Severity now) {
            return new Unacknowledged(now);
        }

        public Normal acknowledge() {
            return new Normal();
        }

        public Normal superseded() {
            return new Normal();
        }

        @Override
        public AlertState state() {
            return AlertState.RETURNED_UNACKNOWLEDGED;
        }

        @Override
        public <R> R match(
                Function<Normal, R> normal,
                Function<Unacknowledged, R> unacknowledged,
                Function<Acknowledged, R> acknowledged,
                Function<ReturnedUnacknowledged, R> returned) {
            return returned.apply(this);
        }
    }
}
