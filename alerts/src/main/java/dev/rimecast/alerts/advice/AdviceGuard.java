package dev.rimecast.alerts.advice;

import dev.rimecast.telemetry.yaml.YamlMap;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/**
 * Keeps what protects people in a firm's own book: each caution, skill and rule to defer to of the standard stays, in its
 * words, with each entry that has it. More of them can be added. An entry that opens a panel in the standard opens one in
 * the firm's book, too, since its cautions come with that.
 */
final class AdviceGuard {
    private final CommonWords standard;

    AdviceGuard(CommonWords standard) {
        this.standard = standard;
    }

    /** Notes what is gone from the words that all entries share. */
    void check(YamlMap document, CommonWords own) {
        for (String caution : standard.panel()) {
            if (own.panel().stream().noneMatch(line -> line.contains(caution))) {
                document.problem("panel", "lacks the standard's caution '" + caution + "': put it back, in its words");
            }
        }
        kept(document.map("cautions"), standard.cautions(), own.cautions());
        kept(document.map("skills"), standard.skills(), own.skills());
        kept(document.map("defer"), standard.defer(), own.defer());
    }

    private static void kept(YamlMap map, Map<String, String> standard, Map<String, String> own) {
        standard.forEach((name, text) -> {
            String words = own.get(name);
            if (words == null) {
                map.problem(name, "is gone, the standard has it: put back '" + text + "'");
            } else if (!words.contains(text)) {
                map.problem(name, "must keep the standard's words: '" + text + "'; you can add to them");
            }
        });
    }

    /** Notes what is gone from one entry. */
    static void check(YamlMap entry, AdviceText standard, AdviceText own) {
        if (standard.opensPanel() && !own.opensPanel()) {
            entry.problem(
                    "engineer",
                    "has no check with panel: true, the standard opens a panel here: keep one, its cautions come with it");
        }
        kept(entry, "cautions", standard.names().cautions(), own.names().cautions());
        kept(entry, "skills", standard.names().skills(), own.names().skills());
        kept(entry, "defer", standard.names().defer(), own.names().defer());
    }

    private static void kept(YamlMap entry, String key, List<String> standard, List<String> own) {
        List<String> gone = new ArrayList<>(standard);
        gone.removeAll(own);
        if (!gone.isEmpty()) {
            entry.problem(key, "lacks " + String.join(", ", gone) + ", which the standard has here: put it back");
        }
    }
}
