package dev.rimecast.telemetry.proof;

import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.json.JsonRecordReader;
import dev.rimecast.telemetry.json.JsonRecordWriter;
import dev.rimecast.telemetry.log.MalformedRecordException;
import dev.rimecast.telemetry.proof.Proof.Shown;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/** Proofs as JSON, the value of topic {@code proofs}: the contract's codes, never the names of our enumerations. */
public final class ProofJson {
    private ProofJson() {}

    /**
     * UTF-8 JSON. Times are cut to milliseconds.
     *
     * @throws IllegalArgumentException if a number is not finite
     */
    public static byte[] encode(Proof proof) {
        return JsonRecordWriter.write(out -> out.text("id", proof.id().toString())
                .integer("revision", proof.revision())
                .text("site", proof.site())
                .text("machine", proof.machine())
                .time("worked_at", proof.workedAt())
                .time("at", proof.at())
                .text("cause", proof.cause().map(Cause::code))
                .texts("about", codes(proof.about()))
                .text("check", proof.check().code())
                .text("verdict", proof.verdict().code())
                .number("probability", proof.probability())
                .integer("cycles", proof.cycles())
                .integer("more", proof.more())
                .texts("raised_since", codes(proof.raisedSince()))
                .objects("shown", proof.shown(), ProofJson::write)
                .flag("last", proof.isLast())
                .text("summary", proof.summary())
                .text("detector_version", proof.detectorVersion())
                .text("policy_version", proof.policyVersion()));
    }

    /**
     * The proof that {@link #encode} wrote; fields that this version does not know are ignored.
     *
     * @throws MalformedRecordException if the bytes are anything else; it names the field
     */
    public static Proof decode(byte[] json) {
        return JsonRecordReader.read(
                json,
                in -> new Proof(
                        UUID.fromString(in.text("id")),
                        in.integer("revision"),
                        in.text("site"),
                        in.text("machine"),
                        in.time("worked_at"),
                        in.time("at"),
                        in.optionalText("cause").flatMap(Cause::ofCode),
                        conditions(in.texts("about")),
                        in.coded("check", Check::ofCode),
                        in.coded("verdict", Verdict::ofCode),
                        in.optionalNumber("probability"),
                        in.integer("cycles"),
                        in.optionalInteger("more"),
                        conditions(in.texts("raised_since")),
                        in.objects("shown", ProofJson::read),
                        in.flag("last"),
                        in.textOrEmpty("summary"),
                        in.textOrEmpty("detector_version"),
                        in.textOrEmpty("policy_version")));
    }

    private static void write(JsonRecordWriter out, Shown shown) {
        out.text("feature", shown.feature().code())
                .number("before", shown.before())
                .number("measured", shown.measured())
                .number("expected", shown.expected())
                .number("sigma", shown.sigma())
                .integer("cycles", shown.cycles())
                .number("probability", shown.probability());
    }

    private static Shown read(JsonRecordReader in) {
        return new Shown(
                in.coded("feature", Feature::ofCode),
                in.optionalNumber("before"),
                in.number("measured"),
                in.number("expected"),
                in.number("sigma"),
                in.integer("cycles"),
                in.number("probability"));
    }

    private static List<String> codes(List<Condition> conditions) {
        return conditions.stream().map(Condition::code).toList();
    }

    /** A condition that this version does not know is left out: what is known of the others stands. */
    private static List<Condition> conditions(List<String> codes) {
        return codes.stream().map(Condition::ofCode).flatMap(Optional::stream).toList();
    }
}
