package dev.rimecast.telemetry.finding;

import dev.rimecast.telemetry.finding.Finding.LimitExpected;
import dev.rimecast.telemetry.finding.Finding.Measure;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.json.JsonRecordReader;
import dev.rimecast.telemetry.json.JsonRecordWriter;
import dev.rimecast.telemetry.log.MalformedRecordException;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;

/** Findings as JSON, the value of topic {@code findings}: the contract's codes, never the names of our enumerations. */
public final class FindingJson {
    private FindingJson() {}

    /**
     * UTF-8 JSON. Times are cut to milliseconds.
     *
     * @throws IllegalArgumentException if a number is not finite
     */
    public static byte[] encode(Finding finding) {
        return JsonRecordWriter.write(out -> {
            out.text("id", finding.id().toString())
                    .integer("revision", finding.revision())
                    .text("step", codeOf(finding.step()))
                    .text("site", finding.site())
                    .text("machine", finding.machine())
                    .text("gateway", finding.gateway())
                    .text("condition", finding.condition().code())
                    .text("stage", finding.stage().code())
                    .text("priority", finding.priority().code())
                    .time("at", finding.at())
                    .time("raised_at", finding.raisedAt())
                    .objects("causes", finding.causes(), FindingJson::write);
            finding.measure().ifPresent(measure -> out.object("measure", fields -> write(fields, measure)));
            finding.limit().ifPresent(limit -> out.object("limit", fields -> write(fields, limit)));
            out.text("summary", finding.summary())
                    .text("detector_version", finding.detectorVersion())
                    .text("policy_version", finding.policyVersion())
                    .objects("answers", finding.inquiry().given(), InquiryJson::write);
            finding.inquiry()
                    .next()
                    .ifPresent(next -> out.object("next_question", fields -> InquiryJson.write(fields, next)));
            out.texts("site_questions", finding.inquiry().ofSite())
                    .objects("grounds", finding.grounds(), FindingJson::write);
        });
    }

    /**
     * The finding that {@link #encode} wrote; fields that this version does not know are ignored.
     *
     * @throws MalformedRecordException if the bytes are anything else; it names the field
     */
    public static Finding decode(byte[] json) {
        return JsonRecordReader.read(
                json,
                in -> new Finding(
                        UUID.fromString(in.text("id")),
                        in.integer("revision"),
                        in.coded("step", FindingJson::stepOf),
                        in.text("site"),
                        in.optionalText("machine"),
                        in.optionalText("gateway"),
                        in.coded("condition", Condition::ofCode),
                        in.coded("stage", Stage::ofCode),
                        in.coded("priority", Priority::ofCode),
                        in.time("at"),
                        in.time("raised_at"),
                        in.objects("causes", FindingJson::readCause),
                        in.optionalObject("measure", FindingJson::readMeasure),
                        in.optionalObject("limit", FindingJson::readLimit),
                        in.textOrEmpty("summary"),
                        in.textOrEmpty("detector_version"),
                        in.textOrEmpty("policy_version"),
                        InquiryJson.read(in),
                        in.objects("grounds", FindingJson::readGround)));
    }

    private static void write(JsonRecordWriter out, Ground ground) {
        out.text("entry", ground.entry())
                .number("value", ground.value())
                .text("unit", ground.unit())
                .text("source", ground.source().code());
    }

    private static Ground readGround(JsonRecordReader in) {
        return new Ground(
                in.text("entry"),
                in.number("value"),
                in.textOrEmpty("unit"),
                in.coded("source", Ground.Source::ofCode));
    }

    private static void write(JsonRecordWriter out, ProbableCause cause) {
        out.text("cause", cause.cause().code())
                .number("probability", cause.probability())
                .texts("evidence_for", cause.evidenceFor())
                .texts("evidence_against", cause.evidenceAgainst());
    }

    private static ProbableCause readCause(JsonRecordReader in) {
        return new ProbableCause(
                in.coded("cause", Cause::ofCode),
                in.number("probability"),
                in.texts("evidence_for"),
                in.texts("evidence_against"));
    }

    private static void write(JsonRecordWriter out, Measure measure) {
        out.text("quantity", measure.quantity())
                .text("unit", measure.unit())
                .number("value", measure.value())
                .number("expected", measure.expected())
                .number("limit", measure.limit());
    }

    private static Measure readMeasure(JsonRecordReader in) {
        return new Measure(
                in.textOrEmpty("quantity"),
                in.textOrEmpty("unit"),
                in.number("value"),
                in.optionalNumber("expected"),
                in.optionalNumber("limit"));
    }

    private static void write(JsonRecordWriter out, LimitExpected limit) {
        out.time("at", limit.at()).time("early", limit.early()).time("late", limit.late());
    }

    private static LimitExpected readLimit(JsonRecordReader in) {
        return new LimitExpected(in.time("at"), in.time("early"), in.time("late"));
    }

    private static String codeOf(Step step) {
        return step.name().toLowerCase(Locale.ROOT);
    }

    private static Optional<Step> stepOf(String code) {
        for (Step step : Step.values()) {
            if (codeOf(step).equals(code)) {
                return Optional.of(step);
            }
        }
        return Optional.empty();
    }
}
