package dev.rimecast.alerts.rules;

import dev.rimecast.alerts.life.Circumstance;
import dev.rimecast.alerts.life.LifeBook;
import dev.rimecast.alerts.life.LifeBook.Suppression;
import dev.rimecast.alerts.priority.PriorityTable;
import dev.rimecast.telemetry.finding.Condition;
import java.util.ArrayList;
import java.util.Collection;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;

/** What is legal and still worth a second look before it is saved: where a book says less than the standard does. */
final class RuleNotes {
    private RuleNotes() {}

    static List<String> of(Book book, RuleBooks proposed) {
        return switch (book) {
            case PRIORITY -> priority(proposed);
            case LIFE -> life(RuleBooks.STANDARD.life(), proposed.life());
            case CASES, ADVICE -> List.of();
        };
    }

    private static List<String> priority(RuleBooks proposed) {
        Set<Condition> lowered = PriorityTable.loweredBeyond(RuleBooks.STANDARD.priority(), proposed.priority());
        return lowered.isEmpty()
                ? List.of()
                : List.of("It can make less urgent than detection found, which the standard never does: "
                        + codes(lowered) + '.');
    }

    private static List<String> life(LifeBook standard, LifeBook proposed) {
        List<String> notes = new ArrayList<>();
        Set<Condition> unlatched = without(standard.latching(), proposed.latching());
        if (!unlatched.isEmpty()) {
            notes.add("These go away by themselves, nobody has to look at them and reset them: " + codes(unlatched)
                    + '.');
        }
        for (Circumstance circumstance : Circumstance.values()) {
            Set<Condition> more = without(conditions(proposed, circumstance), conditions(standard, circumstance));
            if (!more.isEmpty()) {
                notes.add("Not counted any more during " + circumstance.code() + ", which the standard counts: "
                        + codes(more) + '.');
            }
        }
        return List.copyOf(notes);
    }

    private static Set<Condition> conditions(LifeBook book, Circumstance circumstance) {
        Suppression suppression = book.suppressions().get(circumstance);
        return suppression == null ? Set.of() : suppression.conditions();
    }

    private static Set<Condition> without(Set<Condition> all, Set<Condition> some) {
        Set<Condition> rest = EnumSet.noneOf(Condition.class);
        all.stream().filter(condition -> !some.contains(condition)).forEach(rest::add);
        return rest;
    }

    private static String codes(Collection<Condition> conditions) {
        return conditions.stream().sorted().map(Condition::code).collect(Collectors.joining(", "));
    }
}
