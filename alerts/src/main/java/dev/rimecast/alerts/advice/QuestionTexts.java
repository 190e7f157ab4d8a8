package dev.rimecast.alerts.advice;

import dev.rimecast.telemetry.yaml.Yaml;
import dev.rimecast.telemetry.yaml.YamlMap;
import dev.rimecast.telemetry.yaml.YamlType;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/** The sentences of every question: the resource {@code questions.yaml}. */
public final class QuestionTexts {
    private static final Set<String> WHO = Set.of("site", "operator", "engineer");

    /** Those that come with the product. */
    public static final QuestionTexts STANDARD = standard();

    private final Map<String, QuestionText> texts;

    private QuestionTexts(Map<String, QuestionText> texts) {
        this.texts = Collections.unmodifiableMap(texts);
    }

    /** In the order of the file. */
    public Map<String, QuestionText> all() {
        return texts;
    }

    /** A question that another version has asked may have no words here. */
    public Optional<QuestionText> of(String id) {
        return Optional.ofNullable(texts.get(id));
    }

    private static QuestionTexts standard() {
        return parse("questions.yaml", Yaml.text(QuestionTexts.class, "questions.yaml"));
    }

    /** @throws dev.rimecast.telemetry.yaml.YamlProblems with everything that is missing or wrong */
    static QuestionTexts parse(String source, String yaml) {
        return Yaml.read(source, yaml, document -> {
            Map<String, QuestionText> texts = new LinkedHashMap<>();
            document.keys().forEach(id -> texts.put(id, text(id, document.map(id))));
            return new QuestionTexts(texts);
        });
    }

    private static QuestionText text(String id, YamlMap entry) {
        String who = entry.string("who");
        boolean opensPanel = entry.bool("panel", false);
        if (!WHO.contains(who)) {
            entry.problem("who", "must be site, operator or engineer");
        }
        if (opensPanel && who.equals("site")) {
            entry.problem("panel", "must not be true: the site opens no cover");
        }
        return new QuestionText(
                id,
                who,
                entry.string("about"),
                entry.string("ask"),
                opensPanel,
                entry.bool("running", false),
                Set.copyOf(entry.list("puts_right", YamlType.text())),
                entry.values("answers", YamlType.text()));
    }
}
