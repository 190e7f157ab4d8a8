package dev.rimecast.analytics.question;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Inquiry;
import dev.rimecast.telemetry.machine.Machine;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * What people answered about one machine while something was open: evidence in every diagnosis of it until all is over, or
 * until work on the machine may have changed what they saw. The newest answer to a question stands; at most
 * {@value #MOST} are kept.
 */
public final class Answers {
    private static final int MOST = 6;
    /** Bytes of a name that are kept; the audit has all of it. */
    private static final int LONGEST_NAME = 20;

    /** From here on a number is no place among a question's answers: it weighs nothing, and is not asked again. */
    private static final int STILL_NO_ICE = 254;

    private static final int CANNOT_TELL = 255;
    private static final String DONE = "done";

    /** Below this a question tells too little to trouble anybody. */
    private static final double LEAST_GAIN_BITS = 0.03;

    private static final int MOST_OF_SITE = 3;
    /** An answer speaks for a cause under which it is so many times as probable as on average. */
    private static final double SPEAKS = 1.25;

    private static final double LEAST_SHOWN = 0.03;
    private static final int MOST_SHOWN = 5;

    private record Given(Question question, int answer, long millis, String by) {
        boolean weighs() {
            return answer < STILL_NO_ICE;
        }
    }

    private final QuestionBook book = QuestionBook.STANDARD;
    private final List<Given> given = new ArrayList<>();

    /**
     * Takes an answer.
     *
     * @param text {@code question:answer} as in the log
     * @return whether it is an answer to a question of the book
     */
    public boolean take(String text, long millis, String by) {
        int colon = text.indexOf(':');
        Optional<Question> question = colon < 0 ? Optional.empty() : book.find(text.substring(0, colon));
        if (question.isEmpty()) {
            return false;
        }
        String code = text.substring(colon + 1);
        int answer = switch (code) {
            case Inquiry.CANNOT_TELL -> CANNOT_TELL;
            case Inquiry.STILL_NO_ICE -> STILL_NO_ICE;
            default -> question.get().answers().indexOf(code);
        };
        if (answer < 0) {
            return false;
        }
        boolean weighs = given.stream()
                .anyMatch(known -> known.question().equals(question.get())
                        && known.answer() != CANNOT_TELL
                        && known.answer() != STILL_NO_ICE);
        if (answer == STILL_NO_ICE && weighs) {
            // That there is no ice takes nothing back of what was answered.
            return true;
        }
        if (given.stream().anyMatch(known -> known.question().equals(question.get()) && known.millis() > millis)) {
            // Said before and told later: what was said since stands.
            return false;
        }
        given.removeIf(known -> known.question().equals(question.get()));
        if (given.size() == MOST) {
            given.remove(0);
        }
        given.add(new Given(question.get(), answer, millis, shortened(by)));
        return true;
    }

    /** As many whole characters as fit. */
    private static String shortened(String name) {
        String kept = name;
        while (kept.getBytes(StandardCharsets.UTF_8).length > LONGEST_NAME) {
            kept = kept.substring(0, kept.offsetByCodePoints(kept.length(), -1));
        }
        return kept;
    }

    /** Whether an answer, as in the log, says that something was put right on the site: a check done, or a thing found. */
    public static boolean putsRight(String text) {
        int colon = text.indexOf(':');
        String answer = text.substring(colon + 1);
        if (colon < 0) {
            return answer.equals(DONE);
        }
        return answer.equals(DONE)
                || QuestionBook.STANDARD
                        .find(text.substring(0, colon))
                        .filter(question -> question.putsRight().contains(answer))
                        .isPresent();
    }

    public void clear() {
        given.clear();
    }

    public boolean isEmpty() {
        return given.isEmpty();
    }

    /** What is to be shown of a diagnosis that knew nothing of the answers: weighed by them, most probable first. */
    public List<ProbableCause> weigh(List<ProbableCause> causes) {
        List<ProbableCause> weighed = causes;
        if (!causes.isEmpty() && given.stream().anyMatch(Given::weighs)) {
            weighed = new ArrayList<>();
            for (Map.Entry<Cause, Double> entry : odds(causes).ranked().entrySet()) {
                weighed.add(worded(entry.getKey(), Math.min(1, entry.getValue()), causes));
            }
        }
        List<ProbableCause> shown = weighed.stream()
                .filter(cause -> cause.probability() >= LEAST_SHOWN)
                .limit(MOST_SHOWN)
                .toList();
        return shown.isEmpty() ? weighed.stream().limit(1).toList() : shown;
    }

    /** With the evidence of the diagnosis; a part of a cause that stands for several has that cause's. */
    private ProbableCause worded(Cause cause, double probability, List<ProbableCause> causes) {
        return causes.stream()
                .filter(known ->
                        known.cause() == cause || book.partsOf(known.cause()).containsKey(cause))
                .min(Comparator.comparing(known -> known.cause() != cause))
                .map(known -> new ProbableCause(cause, probability, known.evidenceFor(), known.evidenceAgainst()))
                .orElseGet(() -> new ProbableCause(cause, probability, List.of(), List.of()));
    }

    private Odds odds(List<ProbableCause> causes) {
        Odds odds = Odds.of(book, causes);
        for (Given one : given) {
            if (one.weighs()) {
                odds = odds.after(one.question(), one.answer());
            }
        }
        return odds;
    }

    /**
     * What was answered, and what is best asked next.
     *
     * @param causes as a diagnosis that knew nothing of the answers has them
     * @param machine decides which questions make sense
     * @param stands whether it makes no ice: what only a running one can answer is asked after everything else
     */
    public Inquiry inquiry(List<ProbableCause> causes, Machine machine, boolean stands) {
        Odds before = Odds.of(book, causes);
        List<Inquiry.Given> said =
                given.stream().map(one -> inWords(one, before, causes)).toList();
        if (causes.isEmpty()) {
            return new Inquiry(said, Optional.empty(), List.of());
        }
        Odds now = odds(causes);
        List<Worth> worth = book.questions().stream()
                .filter(question -> question.isFor(machine))
                .filter(question ->
                        given.stream().noneMatch(one -> one.question().equals(question)))
                .map(question -> new Worth(question, now.gainBits(question)))
                .filter(each -> each.gainBits() >= LEAST_GAIN_BITS)
                .sorted(Comparator.comparing(
                                (Worth each) -> stands && each.question().needsRunning())
                        .thenComparing(
                                Comparator.comparingDouble((Worth each) -> each.gainBits() / book.cost(each.question()))
                                        .reversed()))
                .toList();
        return new Inquiry(
                said,
                worth.stream().findFirst().map(best -> next(best, now)),
                worth.stream()
                        .filter(each -> each.question().who() == Question.Who.SITE)
                        .limit(MOST_OF_SITE)
                        .map(each -> each.question().id())
                        .toList());
    }

    /** What a question tells. */
    private record Worth(Question question, double gainBits) {}

    private static Inquiry.Next next(Worth best, Odds now) {
        Question question = best.question();
        List<Inquiry.Outcome> outcomes = new ArrayList<>();
        for (int answer = 0; answer < question.answers().size(); answer++) {
            Map.Entry<Cause, Double> leading =
                    now.after(question, answer).ranked().entrySet().iterator().next();
            outcomes.add(new Inquiry.Outcome(
                    question.answers().get(answer),
                    now.chance(question, answer),
                    leading.getKey(),
                    Math.min(1, leading.getValue())));
        }
        return new Inquiry.Next(question.id(), best.gainBits(), outcomes);
    }

    private static Inquiry.Given inWords(Given one, Odds before, List<ProbableCause> causes) {
        Instant at = Instant.ofEpochMilli(one.millis());
        Question question = one.question();
        if (!one.weighs()) {
            String said = one.answer() == STILL_NO_ICE ? Inquiry.STILL_NO_ICE : Inquiry.CANNOT_TELL;
            return new Inquiry.Given(question.id(), said, one.by(), at, List.of(), List.of());
        }
        List<Cause> speaksFor = new ArrayList<>();
        List<Cause> speaksAgainst = new ArrayList<>();
        double average = before.chance(question, one.answer());
        for (Cause cause : partsToo(causes)) {
            double times = chance(one, cause) / average;
            if (times >= SPEAKS) {
                speaksFor.add(cause);
            } else if (times <= 1 / SPEAKS) {
                speaksAgainst.add(cause);
            }
        }
        return new Inquiry.Given(
                question.id(), question.answers().get(one.answer()), one.by(), at, speaksFor, speaksAgainst);
    }

    private static double chance(Given one, Cause cause) {
        return QuestionBook.STANDARD.partsOf(cause).entrySet().stream()
                .sorted(Map.Entry.comparingByKey())
                .mapToDouble(part -> part.getValue() * one.question().chance(one.answer(), part.getKey()))
                .sum();
    }

    private static List<Cause> partsToo(List<ProbableCause> causes) {
        return causes.stream()
                .flatMap(cause -> Stream.concat(
                        Stream.of(cause.cause()), QuestionBook.STANDARD.partsOf(cause.cause()).keySet().stream()))
                .distinct()
                .sorted()
                .toList();
    }

    public void save(StateWriter out) {
        out.u8(given.size());
        for (Given one : given) {
            out.u8(one.question().number()).u8(one.answer()).time(one.millis()).text(one.by());
        }
    }

    /** An answer to a question that is no longer asked is forgotten. */
    public static Answers restore(StateReader in) {
        Answers answers = new Answers();
        for (int count = in.u8(); count > 0; count--) {
            Optional<Question> question = answers.book.find(in.u8());
            int answer = in.u8();
            long millis = in.time();
            String by = in.text();
            question.filter(q -> answer >= STILL_NO_ICE || answer < q.answers().size())
                    .ifPresent(q -> answers.given.add(new Given(q, answer, millis, by)));
        }
        return answers;
    }
}
