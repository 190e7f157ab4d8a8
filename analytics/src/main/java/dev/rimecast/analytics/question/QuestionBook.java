package dev.rimecast.analytics.question;

import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.yaml.Range;
import dev.rimecast.telemetry.yaml.Yaml;
import dev.rimecast.telemetry.yaml.YamlMap;
import dev.rimecast.telemetry.yaml.YamlType;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * Every question: the resource {@code questions.yaml}.
 *
 * @param questions in the order of the file
 * @param reach minutes that it costs to get hold of whoever can answer
 * @param sameWork what causes that lead to the same work are called together
 * @param standsFor causes that stand for several, with how often it is which of them
 */
public record QuestionBook(
        List<Question> questions,
        Map<Question.Who, Integer> reach,
        Map<Cause, String> sameWork,
        Map<Cause, Map<Cause, Double>> standsFor) {
    /** No answer is certain under any cause: people look at the wrong thing, and the wrong machine. */
    private static final Range CHANCE = Range.of(0.01, 0.99);

    private static final double ROUNDING = 1e-6;
    private static final int MOST_NUMBER = 255;
    private static final int MOST_MINUTES = 240;

    /** The book that comes with the product. */
    static final QuestionBook STANDARD = standard();

    Optional<Question> find(String id) {
        return questions.stream().filter(question -> question.id().equals(id)).findFirst();
    }

    Optional<Question> find(int number) {
        return questions.stream()
                .filter(question -> question.number() == number)
                .findFirst();
    }

    /** Minutes that an answer costs in all. */
    double cost(Question question) {
        return question.minutes() + (double) reach.getOrDefault(question.who(), 0);
    }

    /** The causes that this one stands for, with how often it is which of them; itself where it stands for no other. */
    Map<Cause, Double> partsOf(Cause cause) {
        return standsFor.getOrDefault(cause, Map.of(cause, 1.0));
    }

    /** The name of the work that the cause leads to. */
    String workOf(Cause cause) {
        return sameWork.getOrDefault(cause, cause.code());
    }

    /** Ids of all questions with the codes of their answers, for whoever has the sentences. */
    public static Map<String, List<String>> answersOfAll() {
        Map<String, List<String>> answers = new LinkedHashMap<>();
        STANDARD.questions.forEach(question -> answers.put(question.id(), question.answers()));
        return answers;
    }

    /** The same of those that the site can answer. */
    public static Map<String, List<String>> answersOfSite() {
        Map<String, List<String>> answers = new LinkedHashMap<>();
        STANDARD.questions.stream()
                .filter(question -> question.who() == Question.Who.SITE)
                .forEach(question -> answers.put(question.id(), question.answers()));
        return answers;
    }

    /** Ids of those that only a machine that makes ice can answer. */
    public static Set<String> needRunning() {
        return STANDARD.questions.stream()
                .filter(Question::needsRunning)
                .map(Question::id)
                .collect(Collectors.toUnmodifiableSet());
    }

    private static QuestionBook standard() {
        return parse("questions.yaml", Yaml.text(QuestionBook.class, "questions.yaml"));
    }

    /** @throws dev.rimecast.telemetry.yaml.YamlProblems with everything that is wrong */
    static QuestionBook parse(String source, String yaml) {
        return Yaml.read(source, yaml, QuestionBook::read);
    }

    private static QuestionBook read(YamlMap map) {
        Map<Question.Who, Integer> reach = new EnumMap<>(Question.Who.class);
        YamlMap minutes = map.map("reach_minutes");
        for (Question.Who who : Question.Who.values()) {
            reach.put(who, minutes.integer(who.code(), 0, MOST_MINUTES));
        }
        Map<Cause, String> sameWork = new EnumMap<>(Cause.class);
        YamlMap works = map.map("same_work");
        works.keys().forEach(name -> causes(works, name).forEach(cause -> sameWork.put(cause, name)));
        Map<Cause, Map<Cause, Double>> standsFor = new EnumMap<>(Cause.class);
        map.maps("stands_for")
                .forEach(
                        (code, shares) -> cause(shares, code).ifPresent(cause -> standsFor.put(cause, shares(shares))));
        List<Question> questions = new ArrayList<>();
        Set<Integer> numbers = new HashSet<>();
        map.maps("questions").forEach((id, entry) -> {
            Question question = question(id, entry);
            if (!numbers.add(question.number())) {
                entry.problem("number", "is that of another question");
            }
            questions.add(question);
        });
        return new QuestionBook(List.copyOf(questions), reach, sameWork, standsFor);
    }

    private static Question question(String id, YamlMap entry) {
        List<String> answers = entry.list("answers", YamlType.text());
        if (answers.size() < 2) {
            entry.problem("answers", "must be two or more");
        }
        Set<String> putsRight = Set.copyOf(entry.list("puts_right", YamlType.text()));
        if (!answers.containsAll(putsRight)) {
            entry.problem("puts_right", "names what is no answer");
        }
        Map<Cause, List<Double>> given = new EnumMap<>(Cause.class);
        YamlMap rows = entry.map("given");
        rows.keys().forEach(code -> {
            List<Double> row = row(rows, code, answers.size());
            cause(rows, code).ifPresent(cause -> given.put(cause, row));
        });
        return new Question(
                id,
                entry.integer("number", 1, MOST_NUMBER),
                entry.oneOf("who", Question.Who.class, Question.Who::code),
                entry.integer("minutes", 1, MOST_MINUTES),
                kinds(entry, "cooling", Machine.Cooling.class),
                kinds(entry, "drain", Machine.DrainKind.class),
                entry.bool("running", false),
                answers,
                putsRight,
                given,
                row(entry, "otherwise", answers.size()));
    }

    private static List<Double> row(YamlMap map, String key, int size) {
        List<Double> row = map.list(key, YamlType.number(CHANCE));
        double sum = row.stream().mapToDouble(Double::doubleValue).sum();
        if (row.size() != size || StrictMath.abs(sum - 1) > ROUNDING) {
            map.problem(key, "must have a probability for each answer, together 1");
        }
        return row;
    }

    private static Map<Cause, Double> shares(YamlMap map) {
        Map<Cause, Double> shares = new EnumMap<>(Cause.class);
        map.keys().forEach(code -> {
            double share = map.number(code, CHANCE);
            cause(map, code).ifPresent(cause -> shares.put(cause, share));
        });
        double sum = shares.values().stream().mapToDouble(Double::doubleValue).sum();
        if (StrictMath.abs(sum - 1) > ROUNDING) {
            map.problem("must be shares that add up to 1");
        }
        return shares;
    }

    private static Set<Cause> causes(YamlMap map, String key) {
        Set<Cause> causes = EnumSet.noneOf(Cause.class);
        for (String code : map.list(key, YamlType.text())) {
            Cause.ofCode(code).ifPresentOrElse(causes::add, () -> map.problem(key, "'" + code + "' is not a cause"));
        }
        return causes;
    }

    private static Optional<Cause> cause(YamlMap map, String code) {
        Optional<Cause> cause = Cause.ofCode(code);
        if (cause.isEmpty()) {
            map.problem("'" + code + "' is not a cause");
        }
        return cause;
    }

    private static <E extends Enum<E>> Set<E> kinds(YamlMap entry, String key, Class<E> type) {
        return Set.copyOf(entry.list(
                key, YamlType.oneOf(type, kind -> kind.name().toLowerCase(Locale.ROOT))));
    }
}
