package dev.rimecast.telemetry.cycle;

import dev.rimecast.telemetry.cycle.Cycle.Residual;
import dev.rimecast.telemetry.json.JsonRecordReader;
import dev.rimecast.telemetry.json.JsonRecordWriter;
import dev.rimecast.telemetry.log.MalformedRecordException;

/** Cycles as JSON, the value of topic {@code cycles}. Units end the names: {@code s}, {@code c} for °C, {@code k}. */
public final class CycleJson {
    private CycleJson() {}

    /**
     * UTF-8 JSON. Times are cut to milliseconds.
     *
     * @throws IllegalArgumentException if a number is not finite
     */
    public static byte[] encode(Cycle cycle) {
        return JsonRecordWriter.write(out -> write(out, cycle));
    }

    private static void write(JsonRecordWriter out, Cycle cycle) {
        out.text("machine", cycle.machine())
                .time("freeze_start", cycle.freezeStart())
                .time("end", cycle.end())
                .number("pull_down_s", cycle.pullDownSeconds())
                .number("freeze_s", cycle.freezeSeconds())
                .number("harvest_s", cycle.harvestSeconds())
                .number("condensing_peak_c", cycle.condensingPeakCelsius())
                .number("condensing_mean_c", cycle.condensingMeanCelsius())
                .number("split_k", cycle.splitKelvin())
                .number("evaporator_end_c", cycle.evaporatorEndCelsius())
                .number("ambient_c", cycle.ambientCelsius())
                .text("ambient_source", cycle.ambientSource())
                .number("water_c", cycle.waterCelsius())
                .text("water_source", cycle.waterSource())
                .integer("drain_runs", cycle.drainRuns())
                .number("drain_level_max_s", cycle.drainLevelMaxSeconds())
                .number("drain_run_max_s", cycle.drainRunMaxSeconds())
                .flag("complete", cycle.complete())
                .objects("residuals", cycle.residuals(), CycleJson::write)
                .text("detector_version", cycle.detectorVersion())
                .text("policy_version", cycle.policyVersion());
        cycle.acceptance()
                .ifPresent(acceptance -> out.object("acceptance", inner -> AcceptanceJson.write(inner, acceptance)));
    }

    /**
     * The cycle that {@link #encode} wrote; fields that this version does not know are ignored.
     *
     * @throws MalformedRecordException if the bytes are anything else; it names the field
     */
    public static Cycle decode(byte[] json) {
        return JsonRecordReader.read(
                json,
                in -> new Cycle(
                        in.text("machine"),
                        in.time("freeze_start"),
                        in.time("end"),
                        in.optionalNumber("pull_down_s"),
                        in.optionalNumber("freeze_s"),
                        in.optionalNumber("harvest_s"),
                        in.optionalNumber("condensing_peak_c"),
                        in.optionalNumber("condensing_mean_c"),
                        in.optionalNumber("split_k"),
                        in.optionalNumber("evaporator_end_c"),
                        in.optionalNumber("ambient_c"),
                        in.textOrEmpty("ambient_source"),
                        in.optionalNumber("water_c"),
                        in.textOrEmpty("water_source"),
                        in.optionalInteger("drain_runs"),
                        in.optionalNumber("drain_level_max_s"),
                        in.optionalNumber("drain_run_max_s"),
                        in.flag("complete"),
                        in.objects("residuals", CycleJson::readResidual),
                        in.textOrEmpty("detector_version"),
                        in.textOrEmpty("policy_version"),
                        in.optionalObject("acceptance", AcceptanceJson::read)));
    }

    private static void write(JsonRecordWriter out, Residual residual) {
        out.text("feature", residual.feature().code())
                .number("measured", residual.measured())
                .number("expected", residual.expected())
                .number("sigma", residual.sigma());
    }

    private static Residual readResidual(JsonRecordReader in) {
        return new Residual(
                in.coded("feature", Feature::ofCode), in.number("measured"), in.number("expected"), in.number("sigma"));
    }
}
