package dev.rimecast.analytics.watch;

import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import java.util.List;

/** Causes of a condensing temperature that is high all at once, in shares of how often each is found [common practice]. */
final class SuddenHeat {
    private static final List<String> SEEN =
            List.of("The condensing temperature came to its limit at once; the cycles before were as they should be.");

    private static final List<String> HOT_ROOM =
            List.of("The air around the machine is hotter than the machine is made for.");

    private static final List<ProbableCause> IN_ANY_ROOM = List.of(
            new ProbableCause(Cause.FAN_FAILED, 0.55, SEEN, List.of()),
            new ProbableCause(Cause.AIRFLOW_RESTRICTED, 0.25, SEEN, List.of()),
            new ProbableCause(Cause.HOT_AIR_RECIRCULATING, 0.1, SEEN, List.of()));

    private static final List<ProbableCause> IN_A_HOT_ROOM = List.of(
            new ProbableCause(Cause.ROOM_TOO_HOT, 0.75, HOT_ROOM, List.of()),
            new ProbableCause(Cause.FAN_FAILED, 0.1, SEEN, List.of()),
            new ProbableCause(Cause.AIRFLOW_RESTRICTED, 0.1, SEEN, List.of()));

    private SuddenHeat() {}

    /** @param isRoomHot whether the place has been found too hot for the machine */
    static List<ProbableCause> causes(boolean isRoomHot) {
        return isRoomHot ? IN_A_HOT_ROOM : IN_ANY_ROOM;
    }
}
