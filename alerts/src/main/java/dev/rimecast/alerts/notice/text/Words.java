package dev.rimecast.alerts.notice.text;

import dev.rimecast.alerts.view.Confidence;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.yaml.Yaml;
import dev.rimecast.telemetry.yaml.YamlMap;
import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/** {@code words.yaml}: every condition and cause in plain words; and times and causes as a sentence has them. */
public final class Words {
    private static final DateTimeFormatter LONG = DateTimeFormatter.ofPattern("EEE d MMM yyyy, HH:mm", Locale.ENGLISH);
    private static final DateTimeFormatter SHORT = DateTimeFormatter.ofPattern("EEE d MMM, HH:mm", Locale.ENGLISH);
    private static final int NEAREST_PERCENT = 5;

    private final Map<Condition, String> conditions;
    private final Map<Cause, String> causes;

    private Words(Map<Condition, String> conditions, Map<Cause, String> causes) {
        this.conditions = conditions;
        this.causes = causes;
    }

    /** The words that come with the product. */
    public static Words standard() {
        return Yaml.read("words.yaml", Yaml.text(Words.class, "words.yaml"), Words::words);
    }

    private static Words words(YamlMap document) {
        document.string("version");
        YamlMap conditionWords = document.map("conditions");
        Map<Condition, String> conditions = new EnumMap<>(Condition.class);
        for (Condition condition : Condition.values()) {
            conditions.put(condition, conditionWords.string(condition.code()));
        }
        YamlMap causeWords = document.map("causes");
        Map<Cause, String> causes = new EnumMap<>(Cause.class);
        for (Cause cause : Cause.values()) {
            causes.put(cause, causeWords.string(cause.code()));
        }
        return new Words(conditions, causes);
    }

    public String of(Condition condition) {
        return conditions.getOrDefault(condition, condition.code());
    }

    public String of(Cause cause) {
        return causes.getOrDefault(cause, cause.code());
    }

    /** Likely, possible or cannot tell first, a rounded percentage second. */
    String cause(List<ProbableCause> probable) {
        return switch (Confidence.of(probable)) {
            case LIKELY -> "Likely: " + withPercent(probable.get(0)) + '.';
            case POSSIBLE -> "Possible: " + withPercent(probable.get(0)) + '.';
            case CANNOT_TELL ->
                probable.size() < 2
                        ? "Cannot tell the cause yet."
                        : "Cannot tell yet: " + withPercent(probable.get(0)) + ", or " + withPercent(probable.get(1))
                                + '.';
        };
    }

    private String withPercent(ProbableCause probable) {
        long percent = Math.round(probable.probability() * 100 / NEAREST_PERCENT) * NEAREST_PERCENT;
        return of(probable.cause()) + " (about " + percent + " %)";
    }

    static String when(Instant at, ZoneId zone) {
        return LONG.format(at.atZone(zone)) + " (" + zone.getId() + ')';
    }

    static String briefly(Instant at, ZoneId zone) {
        return SHORT.format(at.atZone(zone));
    }

    /** Whether the cause, put beside the condition, would only say it again. */
    static boolean saysTheSame(Condition condition, Cause cause) {
        return condition == Condition.CLEANING_TOO_LONG && cause == Cause.LEFT_IN_CLEANING;
    }
}
