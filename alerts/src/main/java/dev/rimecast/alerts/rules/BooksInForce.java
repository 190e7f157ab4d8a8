package dev.rimecast.alerts.rules;

import dev.rimecast.alerts.advice.AdviceBook;
import dev.rimecast.alerts.cases.CaseBook;
import dev.rimecast.alerts.life.LifeBook;
import dev.rimecast.alerts.priority.PriorityBook;
import dev.rimecast.telemetry.yaml.YamlProblem;
import dev.rimecast.telemetry.yaml.YamlProblems;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;

/**
 * The books that decide now, read by every thread of the stage and exchanged whole. Whoever decides asks anew for each
 * decision and keeps what it got until the decision is made.
 *
 * <p>A saved text that this version of the product can't read is not used: the standard holds, and {@link #problem} says
 * so.
 */
public final class BooksInForce {
    private record State(RuleBooks books, Map<Book, Integer> versions, Map<Book, List<YamlProblem>> unreadable) {}

    private volatile State state = new State(RuleBooks.STANDARD, Map.of(), Map.of());

    public PriorityBook priority() {
        return state.books().priority();
    }

    public CaseBook cases() {
        return state.books().cases();
    }

    public LifeBook life() {
        return state.books().life();
    }

    public AdviceBook advice() {
        return state.books().advice();
    }

    /**
     * How a book stood when the store was read last.
     *
     * @param version the newest; 0 where the firm has never changed it
     * @param unreadable why it is not in force; empty where it is
     */
    record Newest(int version, List<YamlProblem> unreadable) {}

    Newest newest(Book book) {
        State now = state;
        return new Newest(now.versions().getOrDefault(book, 0), now.unreadable().getOrDefault(book, List.of()));
    }

    /** Reads what is new. Safe to call often: a version is read once. */
    public synchronized void refresh(RuleStore store) {
        State before = state;
        RuleBooks books = before.books();
        Map<Book, Integer> versions = store.newest();
        if (versions.equals(before.versions())) {
            return;
        }
        Map<Book, List<YamlProblem>> unreadable = new EnumMap<>(Book.class);
        for (Book book : Book.values()) {
            int version = versions.getOrDefault(book, 0);
            if (before.versions().getOrDefault(book, 0) == version) {
                unreadable.put(book, before.unreadable().getOrDefault(book, List.of()));
                continue;
            }
            try {
                Optional<String> text = store.version(book, version).flatMap(RuleVersion::text);
                books = text.isPresent() ? books.with(book, text.get()) : books.withStandard(book);
                unreadable.put(book, List.of());
            } catch (YamlProblems e) {
                books = books.withStandard(book);
                unreadable.put(book, e.problems());
            }
        }
        state = new State(books, Map.copyOf(versions), Map.copyOf(unreadable));
    }

    /** What stands in the stage's health; empty where every book is as it was saved. */
    public String problem() {
        State now = state;
        return now.unreadable().entrySet().stream()
                .filter(entry -> !entry.getValue().isEmpty())
                .map(entry -> "version " + now.versions().get(entry.getKey()) + " of the firm's book "
                        + entry.getKey().code() + " can't be read by this version of the product ("
                        + entry.getValue().get(0) + "): the standard is used until the page Rules saves it anew")
                .collect(Collectors.joining("; "));
    }
}
