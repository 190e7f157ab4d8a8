package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.policy.FeatureNumber;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.policy.Threshold;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Finding.LimitExpected;
import dev.rimecast.telemetry.finding.Finding.Measure;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** What a rule has reported that is no rule of cycles, as it stands on a tape. */
record TapedReport(long millis, Assessment assessment) {
    private static final int OF_POLICY = 0;
    private static final int OF_FEATURE = 1;
    private static final int OF_REGISTER = 2;
    private static final int BUILT_IN = 3;

    static void write(StateWriter out, long millis, Assessment said) {
        out.whole(millis).u8(said.stage().ordinal()).u8(said.priority().ordinal());
        out.whole(said.causes().size());
        said.causes().forEach(cause -> {
            out.u8(cause.cause().ordinal()).real(cause.probability());
            texts(out, cause.evidenceFor());
            texts(out, cause.evidenceAgainst());
        });
        out.flag(said.measure().isPresent());
        said.measure()
                .ifPresent(measure -> out.text(measure.quantity())
                        .text(measure.unit())
                        .real(measure.value())
                        .optionalReal(measure.expected())
                        .optionalReal(measure.limit()));
        out.flag(said.limit().isPresent());
        said.limit()
                .ifPresent(limit -> out.whole(limit.at().toEpochMilli())
                        .whole(limit.early().toEpochMilli())
                        .whole(limit.late().toEpochMilli()));
        out.text(said.summary()).whole(said.by().size());
        said.by().forEach(by -> threshold(out, by));
    }

    private static void texts(StateWriter out, List<String> texts) {
        out.whole(texts.size());
        texts.forEach(out::text);
    }

    private static void threshold(StateWriter out, Threshold by) {
        if (by instanceof PolicyNumber number) {
            out.u8(OF_POLICY).whole(number.ordinal());
        } else if (by instanceof Threshold.OfFeature of) {
            out.u8(OF_FEATURE).u8(of.feature().ordinal()).u8(of.number().ordinal());
        } else if (by instanceof Threshold.OfRegister of) {
            out.u8(OF_REGISTER).text(of.column()).real(of.value()).text(of.unit());
        } else if (by instanceof Threshold.BuiltIn of) {
            out.u8(BUILT_IN).text(of.name()).real(of.value()).text(of.unit());
        }
    }

    static TapedReport read(StateReader in) {
        long millis = in.whole();
        Stage stage = Stage.values()[in.u8()];
        Priority priority = Priority.values()[in.u8()];
        List<ProbableCause> causes = new ArrayList<>();
        for (int count = in.wholeInt(); count > 0; count--) {
            causes.add(new ProbableCause(Cause.values()[in.u8()], in.real(), texts(in), texts(in)));
        }
        Optional<Measure> measure = in.flag()
                ? Optional.of(new Measure(in.text(), in.text(), in.real(), in.optionalReal(), in.optionalReal()))
                : Optional.empty();
        Optional<LimitExpected> limit =
                in.flag() ? Optional.of(new LimitExpected(instant(in), instant(in), instant(in))) : Optional.empty();
        String summary = in.text();
        List<Threshold> by = new ArrayList<>();
        for (int count = in.wholeInt(); count > 0; count--) {
            by.add(threshold(in));
        }
        return new TapedReport(millis, new Assessment(stage, priority, causes, measure, limit, summary, by));
    }

    private static List<String> texts(StateReader in) {
        List<String> texts = new ArrayList<>();
        for (int count = in.wholeInt(); count > 0; count--) {
            texts.add(in.text());
        }
        return texts;
    }

    private static Threshold threshold(StateReader in) {
        return switch (in.u8()) {
            case OF_POLICY -> PolicyNumber.values()[in.wholeInt()];
            case OF_FEATURE -> new Threshold.OfFeature(Feature.values()[in.u8()], FeatureNumber.values()[in.u8()]);
            case OF_REGISTER -> new Threshold.OfRegister(in.text(), in.real(), in.text());
            default -> new Threshold.BuiltIn(in.text(), in.real(), in.text());
        };
    }

    private static Instant instant(StateReader in) {
        return Instant.ofEpochMilli(in.whole());
    }
}
