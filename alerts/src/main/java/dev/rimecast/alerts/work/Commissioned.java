package dev.rimecast.alerts.work;

import dev.rimecast.alerts.advice.Checklist;
import dev.rimecast.alerts.view.Events;
import dev.rimecast.alerts.view.Writing;
import dev.rimecast.alerts.work.WorkRules.Wrong;
import java.time.Duration;
import java.time.Instant;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

/**
 * A record of commissioning: every item of the machine's checklist, with what was found.
 *
 * @param id made by whoever writes it, so that sending it twice stores it once
 * @param at when it was finished
 * @param answers one for each item, in the order of the list
 * @param by who did it
 */
public record Commissioned(UUID id, Instant at, List<Answer> answers, String note, String by, String job) {
    public Commissioned {
        answers = List.copyOf(answers);
    }

    /** What was found of one item. */
    public enum Result {
        OK,
        NOT_OK,
        DOES_NOT_APPLY;

        private final String code = name().toLowerCase(Locale.ROOT).replace('_', '-');

        public String code() {
            return code;
        }

        public static Optional<Result> ofCode(String code) {
            for (Result result : values()) {
                if (result.code.equals(code)) {
                    return Optional.of(result);
                }
            }
            return Optional.empty();
        }
    }

    /**
     * @param check words of the item as they were then; empty as long as it is not stored
     * @param note must be there where it is not ok, or does not apply
     */
    public record Answer(String item, String check, Result result, String note) {}

    /** As it is kept. */
    public record Stored(Commissioned record, String site, String machine, String enteredBy, Instant enteredAt) {
        /** Whether everything was as it should be. */
        public boolean isGood() {
            return record.answers().stream().noneMatch(answer -> answer.result() == Result.NOT_OK);
        }
    }

    /** The answers in the order of the list, with its words. */
    public Commissioned wordedBy(Checklist list) {
        List<Answer> worded = list.items().stream()
                .flatMap(item -> answers.stream()
                        .filter(answer -> answer.item().equals(item.id()))
                        .map(answer -> new Answer(
                                item.id(), item.check() + ": " + item.expect(), answer.result(), answer.note())))
                .toList();
        return new Commissioned(id, at, worded, note, by, job);
    }

    /** The first that is wrong; absent where nothing is. */
    public Optional<Wrong> wrong(Checklist list, Instant now) {
        if (Duration.between(now, at).compareTo(Events.MOST_AHEAD) > 0) {
            return wrong("time", "is in the future");
        }
        Set<String> open = new HashSet<>();
        list.items().forEach(item -> open.add(item.id()));
        for (int i = 0; i < answers.size(); i++) {
            Answer answer = answers.get(i);
            String member = "answers[" + i + ']';
            if (!open.remove(answer.item())) {
                return wrong(member + ".item", "is no item of this machine's list, or is there twice");
            }
            if (answer.result() != Result.OK && answer.note().isBlank()) {
                return wrong(
                        member + ".note",
                        "is missing: say why it is " + answer.result().code());
            }
            Optional<Wrong> text = text(member + ".note", answer.note(), Events.LONGEST_TEXT);
            if (text.isPresent()) {
                return text;
            }
        }
        return open.isEmpty()
                ? text("note", note, WorkRules.LONGEST_NOTE)
                        .or(() -> text("by", by, Events.LONGEST_TEXT))
                        .or(() -> text("job", job, Events.LONGEST_TEXT))
                : list.items().stream()
                        .filter(item -> open.contains(item.id()))
                        .findFirst()
                        .map(item -> new Wrong("answers", "leave out " + item.id() + ": answer every item"));
    }

    private static Optional<Wrong> text(String member, String text, int longest) {
        if (!Writing.canBeKept(text)) {
            return wrong(member, Writing.WRONG);
        }
        return text.length() <= longest
                ? Optional.empty()
                : wrong(member, "must be at most " + longest + " characters");
    }

    private static Optional<Wrong> wrong(String member, String reason) {
        return Optional.of(new Wrong(member, reason));
    }
}
