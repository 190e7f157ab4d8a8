package dev.rimecast.history.query;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/** Answers as lines, cells joined by a bar. */
public final class Answers {
    private Answers() {}

    public static List<String> rows(History history, String sql) throws IOException {
        List<String> rows = new ArrayList<>();
        history.ask(sql, new Answer() {
            @Override
            public void columns(List<String> names) {}

            @Override
            public void row(List<@Nullable Object> cells) {
                rows.add(cells.stream().map(Printers::text).collect(Collectors.joining("|")));
            }

            @Override
            public void end() {}
        });
        return rows;
    }
}
