package dev.rimecast.alerts.rules;

import dev.rimecast.alerts.advice.AdviceBook;
import dev.rimecast.alerts.cases.CaseBook;
import dev.rimecast.alerts.life.LifeBook;
import dev.rimecast.alerts.priority.PriorityBook;
import dev.rimecast.telemetry.yaml.YamlProblem;
import dev.rimecast.telemetry.yaml.YamlProblems;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** The books that a firm can change. */
public enum Book {
    /** How urgent an alert is. */
    PRIORITY(PriorityBook.class),
    /** Which alerts are one problem. */
    CASES(CaseBook.class),
    /** What latches, what suppresses what, how long something may be put aside. */
    LIFE(LifeBook.class),
    /** What to do about each cause. */
    ADVICE(AdviceBook.class);

    private final String code = name().toLowerCase(Locale.ROOT);
    private final String standardText;

    Book(Class<?> beside) {
        this.standardText = read(beside, name().toLowerCase(Locale.ROOT) + ".yaml");
    }

    private static String read(Class<?> beside, String name) {
        try (InputStream in = beside.getResourceAsStream(name)) {
            if (in == null) {
                throw new IllegalStateException(name + " is not on the class path");
            }
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Its name in addresses and in the database. */
    public String code() {
        return code;
    }

    /** What problems call its text. */
    public String file() {
        return code + ".yaml";
    }

    /** The text that comes with this version of the product. */
    public String standardText() {
        return standardText;
    }

    /** Everything that keeps a text from being this book; empty for one that can be saved. */
    public List<YamlProblem> problems(String text) {
        try {
            RuleBooks.STANDARD.with(this, text);
            return List.of();
        } catch (YamlProblems e) {
            return e.problems();
        }
    }

    public static Optional<Book> ofCode(String code) {
        for (Book book : values()) {
            if (book.code.equals(code)) {
                return Optional.of(book);
            }
        }
        return Optional.empty();
    }
}
