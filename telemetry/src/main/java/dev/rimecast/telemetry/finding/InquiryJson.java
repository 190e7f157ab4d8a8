package dev.rimecast.telemetry.finding;

import dev.rimecast.telemetry.finding.Inquiry.Given;
import dev.rimecast.telemetry.finding.Inquiry.Next;
import dev.rimecast.telemetry.finding.Inquiry.Outcome;
import dev.rimecast.telemetry.json.JsonRecordReader;
import dev.rimecast.telemetry.json.JsonRecordWriter;
import java.util.List;

/** The members {@code answers} and {@code next_question} of a finding. */
final class InquiryJson {
    private InquiryJson() {}

    static void write(JsonRecordWriter out, Given given) {
        out.text("question", given.question())
                .text("answer", given.answer())
                .text("by", given.by())
                .time("at", given.at())
                .texts("speaks_for", codes(given.speaksFor()))
                .texts("speaks_against", codes(given.speaksAgainst()));
    }

    static void write(JsonRecordWriter out, Next next) {
        out.text("question", next.question())
                .number("gain_bits", next.gainBits())
                .objects("outcomes", next.outcomes(), InquiryJson::write);
    }

    private static void write(JsonRecordWriter out, Outcome outcome) {
        out.text("answer", outcome.answer())
                .number("chance", outcome.chance())
                .text("cause", outcome.cause().code())
                .number("probability", outcome.probability());
    }

    static Inquiry read(JsonRecordReader in) {
        return new Inquiry(
                in.objects("answers", InquiryJson::readGiven),
                in.optionalObject("next_question", InquiryJson::readNext),
                in.texts("site_questions"));
    }

    private static Given readGiven(JsonRecordReader in) {
        return new Given(
                in.text("question"),
                in.text("answer"),
                in.textOrEmpty("by"),
                in.time("at"),
                causes(in.texts("speaks_for")),
                causes(in.texts("speaks_against")));
    }

    private static Next readNext(JsonRecordReader in) {
        return new Next(in.text("question"), in.number("gain_bits"), in.objects("outcomes", InquiryJson::readOutcome));
    }

    private static Outcome readOutcome(JsonRecordReader in) {
        return new Outcome(
                in.text("answer"), in.number("chance"), in.coded("cause", Cause::ofCode), in.number("probability"));
    }

    private static List<String> codes(List<Cause> causes) {
        return causes.stream().map(Cause::code).toList();
    }

    /** Causes of a newer version are left out. */
    private static List<Cause> causes(List<String> codes) {
        return codes.stream().flatMap(code -> Cause.ofCode(code).stream()).toList();
    }
}
