package dev.rimecast.alerts.advice;

import dev.rimecast.alerts.advice.Checklist.Item;
import dev.rimecast.alerts.advice.Checklist.Section;
import dev.rimecast.telemetry.yaml.Yaml;
import dev.rimecast.telemetry.yaml.YamlMap;
import dev.rimecast.telemetry.yaml.YamlType;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.Pattern;

/** The checklist of commissioning, for every kind of machine; with the cautions and rules of {@code advice.yaml}. */
public final class CommissioningBook {
    private static final Pattern ID = Pattern.compile("[a-z][a-z0-9-]{1,40}");

    private record Part(String id, String title, boolean isolated, List<Line<Item>> items) {}

    private final CommonWords words;
    private final List<Part> parts;
    private final List<String> cautions;
    private final List<String> deferTo;

    private CommissioningBook(CommonWords words, List<Part> parts, List<String> cautions, List<String> deferTo) {
        this.words = words;
        this.parts = List.copyOf(parts);
        this.cautions = List.copyOf(cautions);
        this.deferTo = List.copyOf(deferTo);
    }

    /** The book that comes with the product. */
    public static CommissioningBook standard() {
        return parse("commissioning.yaml", Yaml.text(CommissioningBook.class, "commissioning.yaml"));
    }

    /**
     * @param source what problems call the text
     * @throws dev.rimecast.telemetry.yaml.YamlProblems with everything that is missing or wrong
     */
    static CommissioningBook parse(String source, String yaml) {
        CommonWords words = AdviceBook.standard().words();
        return Yaml.read(source, yaml, document -> {
            Set<String> seen = new HashSet<>();
            List<Part> parts = new ArrayList<>();
            document.maps("sections").forEach((id, section) -> parts.add(part(id, section, seen)));
            if (parts.isEmpty()) {
                document.problem("sections", "is empty: give at least one");
            }
            return new CommissioningBook(
                    words,
                    parts,
                    named(document, "cautions", words.cautions()),
                    named(document, "defer", words.defer()));
        });
    }

    private static Part part(String id, YamlMap section, Set<String> seen) {
        List<Line<Item>> items = section.mapList("items").stream()
                .map(item -> new Line<>(item(item, seen), Fit.read(item)))
                .toList();
        if (items.isEmpty()) {
            section.problem("items", "is empty: give at least one");
        }
        return new Part(id, section.string("title"), section.bool("isolated"), items);
    }

    private static Item item(YamlMap item, Set<String> seen) {
        String id = item.string("id");
        if (item.has("id") && !ID.matcher(id).matches()) {
            item.problem("id", "must be small letters, digits and hyphens");
        }
        if (!seen.add(id)) {
            item.problem("id", "is there twice: '" + id + "'");
        }
        return new Item(id, item.string("check"), item.string("expect"));
    }

    private static List<String> named(YamlMap document, String key, Map<String, String> known) {
        List<String> texts = new ArrayList<>();
        for (String name : document.list(key, YamlType.text())) {
            if (known.containsKey(name)) {
                texts.add(known.getOrDefault(name, name));
            } else {
                document.problem(key, "names '" + name + "', which is none of " + String.join(", ", known.keySet()));
            }
        }
        if (texts.isEmpty()) {
            document.problem(key, "is empty: give at least one");
        }
        return texts;
    }

    /** The list for one kind of machine; what may not be there says "if". */
    public Checklist of(MachineKind kind) {
        KindWords kinds = words.kinds();
        List<Section> sections = parts.stream()
                .map(part -> new Section(
                        part.id(),
                        part.title(),
                        part.isolated(),
                        part.isolated() ? words.panel() : List.of(),
                        Line.of(part.items(), kind, kinds, (item, open) -> ifIt(item, open, kinds)).stream()
                                .map(item -> new Item(
                                        item.id(), kinds.named(item.check(), kind), kinds.named(item.expect(), kind)))
                                .toList()))
                .filter(section -> !section.items().isEmpty())
                .toList();
        return new Checklist(sections, cautions, deferTo);
    }

    private static Item ifIt(Item item, String open, KindWords kinds) {
        return new Item(item.id(), KindWords.fill(kinds.check(), open, item.check()), item.expect());
    }
}
