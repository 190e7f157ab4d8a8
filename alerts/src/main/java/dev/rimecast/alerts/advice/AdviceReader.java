package dev.rimecast.alerts.advice;

import dev.rimecast.alerts.view.Advice.EngineerCheck;
import dev.rimecast.telemetry.yaml.YamlMap;
import dev.rimecast.telemetry.yaml.YamlType;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/** Reads {@code advice.yaml}. Cautions for open panels are added to every entry that opens one: none can forget them. */
final class AdviceReader {
    private static final YamlType<String> TEXT = YamlType.text();
    private static final int MINUTES_MAX = 24 * 60;

    private final List<String> panelCautions;
    private final Map<String, String> cautions;
    private final Map<String, String> skills;
    private final Map<String, String> defer;

    AdviceReader(YamlMap document) {
        this.panelCautions = texts(document, "panel");
        this.cautions = document.values("cautions", TEXT);
        this.skills = document.values("skills", TEXT);
        this.defer = document.values("defer", TEXT);
    }

    AdviceText read(String about, YamlMap entry) {
        List<EngineerCheck> checks = new ArrayList<>();
        for (YamlMap check : entry.mapList("engineer")) {
            checks.add(new EngineerCheck(check.string("check"), check.string("expect"), check.bool("panel")));
        }
        if (checks.isEmpty()) {
            entry.problem("engineer", "is empty: give at least one check");
        }
        Set<String> allCautions = new LinkedHashSet<>();
        if (checks.stream().anyMatch(EngineerCheck::opensPanel)) {
            allCautions.addAll(panelCautions);
        }
        allCautions.addAll(words(entry, "cautions", cautions));
        return new AdviceText(
                about,
                entry.string("headline"),
                texts(entry, "site"),
                List.copyOf(checks),
                texts(entry, "parts"),
                entry.integer("minutes", 1, MINUTES_MAX),
                words(entry, "skills", skills),
                List.copyOf(allCautions),
                words(entry, "defer", defer));
    }

    private static List<String> texts(YamlMap entry, String key) {
        List<String> texts = entry.list(key, TEXT);
        if (texts.isEmpty()) {
            entry.problem(key, "is empty: give at least one line");
        }
        return List.copyOf(texts);
    }

    private static List<String> words(YamlMap entry, String key, Map<String, String> known) {
        List<String> words = new ArrayList<>();
        for (String name : texts(entry, key)) {
            String text = known.get(name);
            if (text == null) {
                entry.problem(key, "names '" + name + "', which is none of " + String.join(", ", known.keySet()));
            } else {
                words.add(text);
            }
        }
        return List.copyOf(words);
    }
}
