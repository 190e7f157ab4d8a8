package dev.rimecast.analytics.score;

import dev.rimecast.telemetry.file.result.AlertRow;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * How good detection was.
 *
 * @param faults each one, in the truth's order
 * @param all of them together
 * @param byCause of each cause that was there
 * @param falseAlarms about machines with which nothing was wrong
 * @param statements true ones of place and link about such machines: out-of-range places, silence. Not false alarms.
 * @param consequences alerts on a sound machine that a fault of its room or link explains. Not false alarms.
 * @param care reminders of planned care. Not false alarms.
 * @param besideTheFault alerts on a faulty machine, after its onset, with a condition that does not fit its fault
 * @param unjudged alerts about machines of which the truth says nothing
 * @param confusions of faults that were found: true cause, first named cause where it was wrong, how often
 */
public record Score(
        List<FaultResult> faults,
        FaultGroup all,
        List<FaultGroup> byCause,
        FalseAlarms falseAlarms,
        Map<Condition, Integer> statements,
        int consequences,
        int care,
        List<Beside> besideTheFault,
        int unjudged,
        List<Confusion> confusions,
        Calibration calibration) {

    /** An alert that does not fit what was wrong. */
    public record Beside(Cause cause, AlertRow alert) {}

    /**
     * A wrong diagnosis.
     *
     * @param named empty where nothing was named
     */
    public record Confusion(Cause cause, Optional<Cause> named, int count) {}

    public Score {
        faults = List.copyOf(faults);
        byCause = List.copyOf(byCause);
        statements = Map.copyOf(statements);
        besideTheFault = List.copyOf(besideTheFault);
        confusions = List.copyOf(confusions);
    }
}
