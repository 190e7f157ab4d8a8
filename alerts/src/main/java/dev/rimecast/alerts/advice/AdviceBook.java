package dev.rimecast.alerts.advice;

import dev.rimecast.alerts.view.Advice;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.yaml.Yaml;
import dev.rimecast.telemetry.yaml.YamlMap;
import java.time.Instant;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Stream;

/** A recommendation for every cause, and for every condition whose cause can't be told. */
public final class AdviceBook {
    /** Below this the most probable cause is "cannot tell", and the condition's own checks, wider ones, come instead. */
    static final double TOLD_FROM = 0.35;

    private final CommonWords words;
    private final Map<Cause, AdviceText> ofCause;
    private final Map<Condition, AdviceText> ofCondition;

    private AdviceBook(CommonWords words, Map<Cause, AdviceText> ofCause, Map<Condition, AdviceText> ofCondition) {
        this.words = words;
        this.ofCause = ofCause;
        this.ofCondition = ofCondition;
    }

    /** The book that comes with the product. */
    public static AdviceBook standard() {
        return parse("advice.yaml", Yaml.text(AdviceBook.class, "advice.yaml"));
    }

    /**
     * @param source what problems call the text
     * @throws dev.rimecast.telemetry.yaml.YamlProblems with everything that is missing or wrong
     */
    public static AdviceBook parse(String source, String yaml) {
        return Yaml.read(source, yaml, AdviceBook::read);
    }

    /**
     * A firm's own book: it keeps every caution of the standard.
     *
     * @param source what problems call the text
     * @throws dev.rimecast.telemetry.yaml.YamlProblems with everything that is missing or wrong
     */
    public static AdviceBook parseOwn(String source, String yaml) {
        return Yaml.read(source, yaml, document -> {
            AdviceBook own = read(document);
            AdviceBook standard = Standard.BOOK;
            new AdviceGuard(standard.words).check(document, own.words);
            YamlMap causes = document.map("causes");
            standard.ofCause.forEach((cause, text) -> AdviceGuard.check(causes.map(cause.code()), text, own.of(cause)));
            YamlMap conditions = document.map("conditions");
            standard.ofCondition.forEach(
                    (condition, text) -> AdviceGuard.check(conditions.map(condition.code()), text, own.of(condition)));
            return own;
        });
    }

    /** Read when it is first needed. */
    private static final class Standard {
        static final AdviceBook BOOK = standard();
    }

    private static AdviceBook read(YamlMap document) {
        AdviceReader reader = new AdviceReader(document);
        Map<Cause, AdviceText> ofCause = entries(document.map("causes"), Cause.class, Cause::code, reader);
        for (Cause cause : Cause.values()) {
            boolean inside = cause.origin() == Cause.Origin.PART || cause.origin() == Cause.Origin.CIRCUIT;
            AdviceText text = entry(ofCause, cause);
            if (inside && !text.engineerChecks().isEmpty() && !text.opensPanel()) {
                document.map("causes")
                        .map(cause.code())
                        .problem("engineer", "has no check with panel: true, but the cause is inside the machine");
            }
        }
        return new AdviceBook(
                reader.words(), ofCause, entries(document.map("conditions"), Condition.class, Condition::code, reader));
    }

    /** Every constant must have its entry; one that is missing is a problem of the document. */
    private static <E extends Enum<E>> Map<E, AdviceText> entries(
            YamlMap parent, Class<E> type, Function<E, String> code, AdviceReader reader) {
        Map<E, AdviceText> entries = new EnumMap<>(type);
        for (E constant : type.getEnumConstants()) {
            String name = code.apply(constant);
            entries.put(constant, reader.read(name, parent.map(name)));
        }
        return entries;
    }

    /**
     * Advice about a finding: its most probable cause, or its condition; care always by its condition.
     *
     * @param kind of its machine, as far as it is known
     */
    public Advice adviceFor(Finding finding, MachineKind kind, Optional<Instant> latestDate) {
        // Only a drain pump can run too long.
        MachineKind known = finding.condition() == Condition.DRAIN_PUMP_OVERRUN ? kind.withPumpSeen() : kind;
        return textFor(finding).about(known, words.kinds(), latestDate);
    }

    /** Keys of the skills that an engineer needs for what {@link #adviceFor} says. */
    public List<String> skillsFor(Finding finding) {
        return textFor(finding).names().skills();
    }

    /** The skills of the book: keys, and what they stand for. */
    public Map<String, String> skills() {
        return words.skills();
    }

    /** Every part that the book names, in its words, for whatever kind of machine. */
    public List<String> parts() {
        return Stream.concat(ofCause.values().stream(), ofCondition.values().stream())
                .flatMap(text -> text.parts().stream())
                .map(line -> line.content().name())
                .flatMap(part ->
                        MachineKind.all().stream().map(kind -> words.kinds().named(part, kind)))
                .distinct()
                .sorted()
                .toList();
    }

    /** The cause that the advice about a finding is for, where one can be told. */
    public static Optional<Cause> toldCause(Finding finding) {
        return finding.condition().isCare()
                ? Optional.empty()
                : finding.probableCause()
                        .filter(probable -> probable.probability() >= TOLD_FROM)
                        .map(ProbableCause::cause);
    }

    private AdviceText textFor(Finding finding) {
        return toldCause(finding).map(this::of).orElseGet(() -> of(finding.condition()));
    }

    CommonWords words() {
        return words;
    }

    KindWords kindWords() {
        return words.kinds();
    }

    AdviceText of(Cause cause) {
        return entry(ofCause, cause);
    }

    AdviceText of(Condition condition) {
        return entry(ofCondition, condition);
    }

    private static <E> AdviceText entry(Map<E, AdviceText> entries, E key) {
        AdviceText text = entries.get(key);
        if (text == null) {
            throw new IllegalStateException("no advice for " + key);
        }
        return text;
    }
}
