package dev.rimecast.telemetry.cycle;

import dev.rimecast.telemetry.cycle.Acceptance.Probes;
import dev.rimecast.telemetry.cycle.Acceptance.Rating;
import dev.rimecast.telemetry.cycle.Acceptance.Reason;
import dev.rimecast.telemetry.cycle.Acceptance.Shown;
import dev.rimecast.telemetry.cycle.Acceptance.Verdict;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.json.JsonRecordReader;
import dev.rimecast.telemetry.json.JsonRecordWriter;
import java.util.Optional;

/** The member {@code acceptance} of a cycle, and the same by itself. Units end the names, as in a cycle. */
public final class AcceptanceJson {
    private AcceptanceJson() {}

    /** UTF-8 JSON of its own. */
    public static byte[] encode(Acceptance acceptance) {
        return JsonRecordWriter.write(out -> write(out, acceptance));
    }

    /**
     * The acceptance that {@link #encode} wrote.
     *
     * @throws dev.rimecast.telemetry.log.MalformedRecordException if the bytes are anything else; it names the field
     */
    public static Acceptance decode(byte[] json) {
        return JsonRecordReader.read(json, AcceptanceJson::read);
    }

    public static void write(JsonRecordWriter out, Acceptance acceptance) {
        out.text("reason", acceptance.reason().code())
                .time("began", acceptance.began())
                .integer("cycles", acceptance.cycles())
                .text("verdict", acceptance.verdict().code())
                .text("probes", acceptance.probes().code())
                .number("ambient_c", acceptance.ambientCelsius())
                .number("water_c", acceptance.waterCelsius())
                .objects("shown", acceptance.shown(), AcceptanceJson::write);
        acceptance.rating().ifPresent(rating -> out.object("rating", inner -> write(inner, rating)));
        out.texts("wrong", acceptance.wrong().stream().map(Condition::code).toList())
                .flag("last", acceptance.isLast())
                .text("summary", acceptance.summary());
    }

    /** A condition that this version does not know is left out. */
    public static Acceptance read(JsonRecordReader in) {
        return new Acceptance(
                in.coded("reason", Reason::ofCode),
                in.time("began"),
                in.integer("cycles"),
                in.coded("verdict", Verdict::ofCode),
                in.coded("probes", Probes::ofCode),
                in.optionalNumber("ambient_c"),
                in.optionalNumber("water_c"),
                in.objects("shown", AcceptanceJson::readShown),
                in.optionalObject("rating", AcceptanceJson::readRating),
                in.texts("wrong").stream()
                        .map(Condition::ofCode)
                        .flatMap(Optional::stream)
                        .toList(),
                in.flag("last"),
                in.textOrEmpty("summary"));
    }

    private static void write(JsonRecordWriter out, Shown shown) {
        out.text("feature", shown.feature().code())
                .number("measured", shown.measured())
                .number("expected", shown.expected())
                .number("low", shown.low())
                .number("high", shown.high())
                .integer("cycles", shown.cycles())
                .text("verdict", shown.verdict().code());
    }

    private static Shown readShown(JsonRecordReader in) {
        return new Shown(
                in.coded("feature", Feature::ofCode),
                in.number("measured"),
                in.number("expected"),
                in.number("low"),
                in.number("high"),
                in.integer("cycles"),
                in.coded("verdict", Verdict::ofCode));
    }

    private static void write(JsonRecordWriter out, Rating rating) {
        out.number("rated_kg_per_day", rating.ratedKgPerDay())
                .number("allowed_kg_per_day", rating.allowedKgPerDay())
                .number("made_kg_per_day", rating.madeKgPerDay())
                .text("verdict", rating.verdict().code());
    }

    private static Rating readRating(JsonRecordReader in) {
        return new Rating(
                in.number("rated_kg_per_day"),
                in.number("allowed_kg_per_day"),
                in.number("made_kg_per_day"),
                in.coded("verdict", Verdict::ofCode));
    }
}
