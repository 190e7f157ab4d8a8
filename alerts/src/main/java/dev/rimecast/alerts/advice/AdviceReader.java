package dev.rimecast.alerts.advice;

import dev.rimecast.alerts.view.Advice.EngineerCheck;
import dev.rimecast.alerts.view.Advice.SiteCheck;
import dev.rimecast.alerts.view.Advice.Told;
import dev.rimecast.telemetry.yaml.YamlMap;
import dev.rimecast.telemetry.yaml.YamlType;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.regex.Pattern;

/** Reads {@code advice.yaml}. Cautions for open panels are added to every entry that opens one: none can forget them. */
final class AdviceReader {
    private static final YamlType<String> TEXT = YamlType.text();
    private static final int MINUTES_MAX = 24 * 60;
    private static final int SITE_CHECKS_MAX = 4;
    private static final List<MachineKind> KINDS = MachineKind.all();

    /** One question, perhaps after what to do for it, that begins with its verb. */
    private static final Pattern YES_OR_NO =
            Pattern.compile("(?:[^?]*: )?(?i:is|are|was|were|does|do|did|can|has|have)\\b"
                    + "(?![^?]*\\b(?i:what|when|who|which)\\b[^?]*\\?)[^?]*\\?[^?]*");

    /** Words of work that is not the site's. */
    private static final List<String> TOOLS =
            List.of("screw", "multimeter", "remove the panel", "cover off", "wrench", "voltage", "pressure gauge");

    private final CommonWords words;

    AdviceReader(YamlMap document) {
        this.words = new CommonWords(
                texts(document, "panel"),
                document.values("cautions", TEXT),
                document.values("skills", TEXT),
                document.values("defer", TEXT),
                KindWords.read(document.map("kinds")));
    }

    CommonWords words() {
        return words;
    }

    AdviceText read(String about, YamlMap entry) {
        List<Line<EngineerCheck>> checks = entry.mapList("engineer").stream()
                .map(check -> new Line<>(
                        new EngineerCheck(check.string("check"), check.string("expect"), check.bool("panel")),
                        Fit.read(check)))
                .toList();
        List<Line<SiteCheck>> site = entry.mixedList(
                "site",
                TEXT,
                text -> new Line<>(siteCheck(text, false, false), Fit.EVERY),
                line -> new Line<>(
                        siteCheck(line.string("text"), line.bool("mends", false), line.bool("running", false)),
                        Fit.read(line)));
        List<Line<AdviceText.Part>> parts = entry.mixedList(
                "parts",
                TEXT,
                text -> new Line<>(new AdviceText.Part(text, false), Fit.EVERY),
                line -> new Line<>(
                        new AdviceText.Part(line.string("text"), line.bool("needed", false)), Fit.read(line)));
        forEveryKind(entry, "engineer", checks);
        forEveryKind(entry, "site", site);
        forEveryKind(entry, "parts", parts);
        checkSite(entry, site);
        AdviceText.Names names = new AdviceText.Names(
                names(entry, "skills", words.skills()),
                names(entry, "cautions", words.cautions()),
                names(entry, "defer", words.defer()));
        Set<String> allCautions = new LinkedHashSet<>();
        if (checks.stream().anyMatch(line -> line.content().opensPanel())) {
            allCautions.addAll(words.panel());
        }
        allCautions.addAll(words(names.cautions(), words.cautions()));
        return new AdviceText(
                about,
                entry.string("headline"),
                site,
                checks,
                parts,
                entry.integer("minutes", 1, MINUTES_MAX),
                words(names.skills(), words.skills()),
                List.copyOf(allCautions),
                words.panel(),
                words(names.defer(), words.defer()),
                names);
    }

    /** What mends nothing tells yes or no where it asks that, and one thing only. */
    private static SiteCheck siteCheck(String text, boolean mends, boolean needsRunning) {
        return new SiteCheck(
                text,
                mends ? Told.MENDED : YES_OR_NO.matcher(text).matches() ? Told.YES_OR_NO : Told.LOOKED,
                needsRunning);
    }

    /** Whatever a machine is, something is left to say of it. */
    private static <T> void forEveryKind(YamlMap entry, String key, List<Line<T>> lines) {
        if (lines.isEmpty()) {
            entry.problem(key, "is empty: give at least one line");
        } else if (KINDS.stream()
                .anyMatch(kind -> lines.stream().noneMatch(line -> line.fit().mayBe(kind)))) {
            entry.problem(key, "has no line for some kinds of machine: give at least one without \"for\"");
        }
    }

    /** What people without tools can do, and no more of it than they will read. */
    private static void checkSite(YamlMap entry, List<Line<SiteCheck>> checks) {
        long most = KINDS.stream()
                .mapToLong(kind ->
                        checks.stream().filter(line -> line.fit().mayBe(kind)).count())
                .max()
                .orElse(0);
        if (most > SITE_CHECKS_MAX) {
            entry.problem("site", "has " + most + " checks for one machine: leave at most " + SITE_CHECKS_MAX);
        }
        for (Line<SiteCheck> check : checks) {
            TOOLS.stream()
                    .filter(tool ->
                            check.content().ask().toLowerCase(Locale.ROOT).contains(tool))
                    .forEach(tool -> entry.problem(
                            "site",
                            "says '" + tool + "': people on site have no tools, make it a check of the engineer"));
        }
    }

    private static List<String> texts(YamlMap entry, String key) {
        List<String> texts = entry.list(key, TEXT);
        if (texts.isEmpty()) {
            entry.problem(key, "is empty: give at least one line");
        }
        return List.copyOf(texts);
    }

    private static List<String> names(YamlMap entry, String key, Map<String, String> known) {
        List<String> names = new ArrayList<>();
        for (String name : texts(entry, key)) {
            if (known.containsKey(name)) {
                names.add(name);
            } else {
                entry.problem(key, "names '" + name + "', which is none of " + String.join(", ", known.keySet()));
            }
        }
        return List.copyOf(names);
    }

    private static List<String> words(List<String> names, Map<String, String> known) {
        return names.stream().map(name -> known.getOrDefault(name, name)).toList();
    }
}
