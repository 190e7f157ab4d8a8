package dev.rimecast.history.query;

import dev.rimecast.history.table.Table;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;

/** What can be asked: the tables, and what is made of them. */
public enum View {
    READINGS("what machines said, a row for each machine and time", "time"),
    CYCLES("finished cycles, with what was expected of them", "freeze_start"),
    ALERTS("a row for each alert, as it stands", "raised_at"),
    OUTCOMES("what people found, did and called about, and whether it was known before", "happened_at"),
    FINDINGS("every revision of every alert", "said_at"),
    PROOFS("every revision of whether recorded work has held", "said_at"),
    EVENTS("everything that people reported", "happened_at"),
    PACKS("the sites' logs as they are: packs, presence, ticks", "arrived_at"),
    RECORDS("the sites' logs as they are: register, policies, events, weather", "arrived_at");

    private final String meaning;
    private final String time;

    View(String meaning, String time) {
        this.meaning = meaning;
        this.time = time;
    }

    public String code() {
        return name().toLowerCase(Locale.ROOT);
    }

    public String meaning() {
        return meaning;
    }

    /** The column by which a period is meant. */
    public String time() {
        return time;
    }

    /** The table that it shows as it is. */
    Optional<Table> table() {
        return Stream.of(Table.values())
                .filter(table -> table.code().equals(code()))
                .findFirst();
    }

    public static Optional<View> ofCode(String code) {
        return Stream.of(values()).filter(view -> view.code().equals(code)).findFirst();
    }

    public static List<String> codes() {
        return Stream.of(values()).map(View::code).toList();
    }
}
