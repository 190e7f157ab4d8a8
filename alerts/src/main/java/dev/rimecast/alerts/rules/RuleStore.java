package dev.rimecast.alerts.rules;

import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Where versions of books are kept. None is ever changed or taken away. */
public interface RuleStore {
    /** Every version of a book, the newest first. */
    List<RuleVersion> versions(Book book);

    Optional<RuleVersion> version(Book book, int version);

    /** The number of each book's newest version; a book that the firm has never changed is not in the map. */
    Map<Book, Integer> newest();

    /** Adds a version; false, and nothing is changed, unless it is the next one after the newest. */
    boolean append(RuleVersion next);
}
