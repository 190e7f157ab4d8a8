package dev.rimecast.alerts.advice;

import java.util.List;

/**
 * What is looked at when a machine of one kind is put up or moved.
 *
 * @param cautions of the whole list
 * @param deferTo rules and books that go before it
 */
public record Checklist(List<Section> sections, List<String> cautions, List<String> deferTo) {
    public Checklist {
        sections = List.copyOf(sections);
        cautions = List.copyOf(cautions);
        deferTo = List.copyOf(deferTo);
    }

    /**
     * @param isolated whether covers are off, and the power is isolated
     * @param cautions that come before its items
     */
    public record Section(String id, String title, boolean isolated, List<String> cautions, List<Item> items) {
        public Section {
            cautions = List.copyOf(cautions);
            items = List.copyOf(items);
        }
    }

    /**
     * @param id stored with each record
     * @param expect what a good one is like
     */
    public record Item(String id, String check, String expect) {}

    /** All items in their order. */
    public List<Item> items() {
        return sections.stream().flatMap(section -> section.items().stream()).toList();
    }
}
