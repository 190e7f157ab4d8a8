package dev.rimecast.alerts.rules;

import dev.rimecast.alerts.advice.AdviceBook;
import dev.rimecast.alerts.cases.CaseBook;
import dev.rimecast.alerts.life.LifeBook;
import dev.rimecast.alerts.priority.PriorityBook;
import dev.rimecast.telemetry.yaml.Yaml;
import dev.rimecast.telemetry.yaml.YamlProblem;
import dev.rimecast.telemetry.yaml.YamlProblems;
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

    /** The longest text of a book, in characters: almost four times the longest standard. */
    public static final int LONGEST_TEXT = 240_000;

    private final String code = name().toLowerCase(Locale.ROOT);
    private final String standardText;

    Book(Class<?> beside) {
        this.standardText = Yaml.text(beside, file());
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

    /**
     * The standard books, with this one in a firm's words.
     *
     * @throws YamlProblems with everything that keeps the text from being saved
     */
    RuleBooks read(String text) {
        if (text.length() > LONGEST_TEXT) {
            throw new YamlProblems(List.of(new YamlProblem(
                    file(), "", 0, "has " + text.length() + " characters: leave at most " + LONGEST_TEXT)));
        }
        return RuleBooks.STANDARD.with(this, text);
    }

    /** Everything that keeps a text from being this book; empty for one that can be saved. */
    public List<YamlProblem> problems(String text) {
        try {
            read(text);
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
