package dev.rimecast.alerts.rules;

import dev.rimecast.alerts.priority.PriorityBook;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.telemetry.yaml.YamlProblem;
import dev.rimecast.telemetry.yaml.YamlProblems;
import java.time.InstantSource;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * Where people look at the rules and change them. A text that can't be read, or that lacks a caution, is never saved;
 * each change is the next version, with who, when and why. Safe for many threads and processes: of two that save after
 * the same version one is told.
 */
public final class RuleDesk {
    private final RuleStore store;
    private final BooksInForce inForce;
    private final Judgement judgement;
    private final InstantSource clock;
    private final Runnable changed;

    /** What another priority book would make of the alerts that are there. */
    @FunctionalInterface
    public interface Judgement {
        /** For where there are none. */
        Judgement NOTHING = book -> new Effect(0, List.of());

        Effect of(PriorityBook proposed);
    }

    /**
     * @param clock of the product, for when a version was saved
     * @param changed called after each change, once it is in force here
     */
    public RuleDesk(RuleStore store, BooksInForce inForce, Judgement judgement, InstantSource clock, Runnable changed) {
        this.store = store;
        this.inForce = inForce;
        this.judgement = judgement;
        this.clock = clock;
        this.changed = changed;
    }

    /**
     * How a book stands.
     *
     * @param latest the newest version; absent where the firm has never changed it
     * @param unreadable why the standard is used in its place; empty where it is not
     */
    public record Current(Book book, Optional<RuleVersion> latest, List<YamlProblem> unreadable) {
        /** 0 where nothing was ever saved. */
        public int version() {
            return latest.map(RuleVersion::version).orElse(0);
        }

        /** Whether the standard of the product decides. */
        public boolean isStandard() {
            return latest.flatMap(RuleVersion::text).isEmpty() || !unreadable.isEmpty();
        }

        /** The text that was saved, whether it can be read or not. */
        public String text() {
            return latest.map(RuleVersion::textOrStandard).orElseGet(book::standardText);
        }
    }

    /**
     * What a text would do.
     *
     * @param problems why it can't be saved; empty where it can
     * @param notes what a person should know before it is saved, in words
     * @param effect what changes at once; empty for books that change nothing that is there
     * @param priority the text as it was read, where it is a priority book
     */
    public record Check(
            List<YamlProblem> problems, List<String> notes, Optional<Effect> effect, Optional<PriorityBook> priority) {}

    /** What came of saving. */
    public sealed interface Outcome {
        record Done(Current current) implements Outcome {}

        /** Somebody else saved in the meantime. */
        record Changed(Current current) implements Outcome {}

        record Wrong(List<YamlProblem> problems) implements Outcome {}

        /** It says what is in force already. */
        record Same(Current current) implements Outcome {}

        record NoSuchVersion() implements Outcome {}
    }

    public List<Current> all() {
        inForce.refresh(store);
        return Stream.of(Book.values()).map(this::standing).toList();
    }

    public Current current(Book book) {
        inForce.refresh(store);
        return standing(book);
    }

    private Current standing(Book book) {
        BooksInForce.Newest newest = inForce.newest(book);
        return new Current(book, store.version(book, newest.version()), newest.unreadable());
    }

    /** The newest first; the standard is none of them. */
    public List<RuleVersion> versions(Book book) {
        return store.versions(book);
    }

    public Optional<RuleVersion> version(Book book, int version) {
        return store.version(book, version);
    }

    /** Says what a text would do; saves nothing. */
    public Check check(Book book, String text) {
        try {
            RuleBooks proposed = book.read(text);
            Optional<PriorityBook> priority =
                    book == Book.PRIORITY ? Optional.of(proposed.priority()) : Optional.empty();
            return new Check(List.of(), RuleNotes.of(book, proposed), priority.map(judgement::of), priority);
        } catch (YamlProblems e) {
            return new Check(e.problems(), List.of(), Optional.empty(), Optional.empty());
        }
    }

    /**
     * Saves the next version.
     *
     * @param expected the version that was looked at
     * @param why never blank
     */
    public Outcome save(Book book, int expected, String text, Person who, String why) {
        Current current = current(book);
        if (current.version() != expected) {
            return new Outcome.Changed(current);
        }
        if (current.text().equals(text)) {
            return new Outcome.Same(current);
        }
        List<YamlProblem> problems = book.problems(text);
        return problems.isEmpty()
                ? append(book, expected, Optional.of(text), who, why, Optional.empty())
                : new Outcome.Wrong(problems);
    }

    /**
     * Takes up an earlier version again, as the next version.
     *
     * @param to 0 follows the standard of the product, also of its later versions
     */
    public Outcome rollBack(Book book, int expected, int to, Person who, String why) {
        Current current = current(book);
        if (current.version() != expected) {
            return new Outcome.Changed(current);
        }
        Optional<RuleVersion> wanted = store.version(book, to);
        if (to != 0 && wanted.isEmpty()) {
            return new Outcome.NoSuchVersion();
        }
        Optional<String> text = wanted.flatMap(RuleVersion::text);
        if (current.latest().flatMap(RuleVersion::text).equals(text)) {
            return new Outcome.Same(current);
        }
        List<YamlProblem> problems = text.map(book::problems).orElse(List.of());
        return problems.isEmpty()
                ? append(book, expected, text, who, why, Optional.of(to))
                : new Outcome.Wrong(problems);
    }

    private Outcome append(
            Book book, int expected, Optional<String> text, Person who, String why, Optional<Integer> restores) {
        RuleVersion next = new RuleVersion(
                book, expected + 1, text, clock.instant().truncatedTo(ChronoUnit.MILLIS), who.name(), why, restores);
        if (!store.append(next)) {
            return new Outcome.Changed(current(book));
        }
        Outcome done = new Outcome.Done(current(book));
        changed.run();
        return done;
    }
}
