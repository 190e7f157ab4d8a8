package dev.rimecast.analytics.score;

import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.json.JsonRecordWriter;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.TreeMap;

/** A score for a program. */
public final class ScoreJson {
    private ScoreJson() {}

    /** One JSON object. */
    public static String of(Score score) {
        byte[] bytes = JsonRecordWriter.write(out -> {
            out.object("all", o -> group(o, score.all()));
            out.objects("by_cause", score.byCause(), ScoreJson::group);
            out.object("false_alarms", o -> alarms(o, score.falseAlarms()));
            out.objects("statements", entries(score.statements()), ScoreJson::condition);
            out.integer("consequences", score.consequences());
            out.integer("care", score.care());
            out.integer("beside_the_fault", score.besideTheFault().size());
            out.integer("unjudged", score.unjudged());
            out.objects(
                    "confusions",
                    score.confusions(),
                    (o, c) -> o.text("cause", c.cause().code())
                            .text("named", c.named().map(Cause::code))
                            .integer("count", c.count()));
            out.objects(
                    "calibration",
                    score.calibration().bins(),
                    (o, bin) -> o.number("from", bin.from())
                            .number("to", bin.to())
                            .integer("diagnoses", bin.diagnoses())
                            .number("stated", bin.stated())
                            .integer("right", bin.right()));
            out.number("brier", score.calibration().brier());
        });
        return new String(bytes, StandardCharsets.UTF_8);
    }

    private static void group(JsonRecordWriter out, FaultGroup group) {
        out.text("name", group.name());
        out.integer("faults", group.faults());
        out.integer("found", group.found());
        group.foundInterval().ifPresent(i -> out.number("found_low", i.low()).number("found_high", i.high()));
        out.number("lead_median", group.leadMedian());
        out.number("lead_lowest_tenth", group.leadTenth());
        out.integer("developing", group.developing());
        out.integer("three_days_before", group.threeDays());
        out.integer("steps", group.steps());
        out.number("steps_delay_hours_median", group.delayHoursMedian());
        out.integer("steps_in_cycles", group.inCycles());
        out.integer("steps_prompt", group.prompt());
        out.integer("cause_first_right", group.firstRight());
        out.integer("cause_first_three_right", group.firstThreeRight());
        out.integer("side_right", group.sideRight());
    }

    private static void alarms(JsonRecordWriter out, FalseAlarms alarms) {
        double upper = alarms.upperPerMachineYear();
        out.integer("count", alarms.alarms().size());
        out.number("machine_years", alarms.machineYears());
        out.number("per_machine_year", alarms.perMachineYear());
        out.number("upper_90", Double.isFinite(upper) ? OptionalDouble.of(upper) : OptionalDouble.empty());
        out.objects("by_condition", entries(alarms.byCondition()), ScoreJson::condition);
    }

    private static List<Map.Entry<Condition, Integer>> entries(Map<Condition, Integer> counts) {
        return List.copyOf(new TreeMap<>(counts).entrySet());
    }

    private static void condition(JsonRecordWriter out, Map.Entry<Condition, Integer> count) {
        out.text("condition", count.getKey().code()).integer("count", count.getValue());
    }
}
