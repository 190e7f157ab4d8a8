package dev.rimecast.alerts.notice;

import dev.rimecast.telemetry.finding.NameBasedId;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.UUID;

/**
 * A notice to one receiver.
 *
 * @param dueAt when it was first to be sent: its receiver's hours are in it, pauses after failures are not
 */
public record Delivery(
        UUID id,
        Kind kind,
        int telling,
        String route,
        int step,
        String receiver,
        State state,
        int attempts,
        Instant dueAt) {

    /** What it says. */
    public enum Kind {
        /** Something needs action. */
        RAISED,
        /** What was told before has become more urgent. */
        WORSE,
        /** What was told before is over. */
        OVER,
        /** It came and went before it could be told, and was urgent or high. */
        PASSED,
        /** The daily summary. */
        DIGEST,
        /** Somebody tries whether it arrives. */
        TEST,
        /** The link by which a site is asked. */
        LINK;

        public String code() {
            return name().toLowerCase(Locale.ROOT);
        }

        /** Whether it asks for action. */
        boolean tellsOfTrouble() {
            return this == RAISED || this == WORSE;
        }
    }

    /** Where it is on its way. */
    public enum State {
        WAITING,
        /** Somebody sends it now, or did when the process ended: whether it arrived is not known. */
        SENDING,
        SENT,
        /** Given up, until somebody tries it again by hand. */
        FAILED,
        /** Not sent, and never will be. */
        CANCELLED;

        public String code() {
            return name().toLowerCase(Locale.ROOT);
        }
    }

    static Delivery planned(Matter matter, Kind kind, String route, int step, String receiver, Instant dueAt) {
        return planned(matter, kind, route, step, receiver, 0, dueAt);
    }

    /** @param withdrawn how often the same was planned and withdrawn before */
    static Delivery planned(
            Matter matter, Kind kind, String route, int step, String receiver, int withdrawn, Instant dueAt) {
        return new Delivery(
                idOf(matter, kind, route, step, receiver, withdrawn),
                kind,
                matter.telling(),
                route,
                step,
                receiver,
                State.WAITING,
                0,
                dueAt);
    }

    /** A function of the announcing event, of what is told and of the route: planned twice, it is the same notice. */
    private static UUID idOf(Matter matter, Kind kind, String route, int step, String receiver, int withdrawn) {
        boolean ends = kind == Kind.OVER || kind == Kind.PASSED;
        return NameBasedId.of("notice|" + matter.id() + '|' + (ends ? "end" : "telling-" + matter.telling()) + '|'
                + route + '|' + step + '|' + receiver + (withdrawn > 0 ? "|" + withdrawn : ""));
    }

    /** Nothing of it has left. */
    boolean isUntouched() {
        return state == State.WAITING && attempts == 0;
    }

    /** It arrived, or may have, or is still tried. */
    boolean mayArrive() {
        return state == State.SENT || state == State.SENDING || (state == State.WAITING && attempts > 0);
    }

    /** It is on its way, or will be. */
    boolean isUnderWay() {
        return state == State.WAITING || state == State.SENDING;
    }

    /**
     * Whether it may leave now, as far as other notices go: one matter's notices to one receiver leave in their order, and
     * an end only where something arrived that it is the end of.
     *
     * @param all notices of the same matter, in the order of planning
     */
    public boolean isItsTurn(List<Delivery> all) {
        List<Delivery> earlier = all.stream()
                .takeWhile(d -> !d.id().equals(id))
                .filter(d -> d.receiver().equals(receiver))
                .toList();
        boolean isFirst = earlier.stream().noneMatch(Delivery::isUnderWay);
        return isFirst
                && (kind != Kind.OVER
                        || earlier.stream().anyMatch(d -> d.kind().tellsOfTrouble() && d.state() == State.SENT));
    }
}
