package dev.rimecast.alerts;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/** A list read page by page, each from behind the last of the one before, until one is empty. */
public final class InPages {
    private InPages() {}

    /**
     * What all pages have together.
     *
     * @param page the page behind that place; the first without one
     * @param behind the place behind a row
     */
    public static <T, P> List<T> all(Function<Optional<P>, List<T>> page, Function<T, P> behind) {
        List<T> all = new ArrayList<>();
        Optional<P> place = Optional.empty();
        for (List<T> next = page.apply(place); !next.isEmpty(); next = page.apply(place)) {
            all.addAll(next);
            place = Optional.of(behind.apply(next.get(next.size() - 1)));
        }
        return all;
    }
}
