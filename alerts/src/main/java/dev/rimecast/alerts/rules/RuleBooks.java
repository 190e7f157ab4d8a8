package dev.rimecast.alerts.rules;

import dev.rimecast.alerts.advice.AdviceBook;
import dev.rimecast.alerts.cases.CaseBook;
import dev.rimecast.alerts.life.LifeBook;
import dev.rimecast.alerts.priority.PriorityBook;

/** One book of each kind, as they are in force together. */
public record RuleBooks(PriorityBook priority, CaseBook cases, LifeBook life, AdviceBook advice) {
    /** Those that come with the product. */
    public static final RuleBooks STANDARD =
            new RuleBooks(PriorityBook.standard(), CaseBook.standard(), LifeBook.standard(), AdviceBook.standard());

    /**
     * The same with one of them in a firm's words.
     *
     * @throws dev.rimecast.telemetry.yaml.YamlProblems with everything that is missing or wrong
     */
    RuleBooks with(Book book, String text) {
        return switch (book) {
            case PRIORITY -> new RuleBooks(PriorityBook.parse(book.file(), text), cases, life, advice);
            case CASES -> new RuleBooks(priority, CaseBook.parse(book.file(), text), life, advice);
            case LIFE -> new RuleBooks(priority, cases, LifeBook.parse(book.file(), text), advice);
            case ADVICE -> new RuleBooks(priority, cases, life, AdviceBook.parseOwn(book.file(), text));
        };
    }

    /** The same with one of them as it comes with the product. */
    RuleBooks withStandard(Book book) {
        return switch (book) {
            case PRIORITY -> new RuleBooks(STANDARD.priority, cases, life, advice);
            case CASES -> new RuleBooks(priority, STANDARD.cases, life, advice);
            case LIFE -> new RuleBooks(priority, cases, STANDARD.life, advice);
            case ADVICE -> new RuleBooks(priority, cases, life, STANDARD.advice);
        };
    }
}
