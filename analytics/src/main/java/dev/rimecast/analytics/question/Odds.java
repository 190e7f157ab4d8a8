package dev.rimecast.analytics.question;

import dev.rimecast.analytics.diagnosis.Posterior;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import java.util.Collection;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * Probabilities of the causes of one finding, and of none of them: exactly one is true. A cause that stands for several is
 * taken apart, so that an answer can tell which of them it is.
 *
 * <p>An answer changes them by Bayes' rule, {@code P(c|a) = P(c) P(a|c) / P(a)}: it adds {@code ln P(a|c)} to the log-odds of
 * the diagnosis. What a question is worth is the mutual information of its answer and the cause, {@code I(A;C) = sum over a
 * and c of P(c) P(a|c) log2(P(a|c) / P(a))} (Cover and Thomas, Elements of Information Theory, equation 2.28; from memory),
 * where causes that lead to the same work count as one: nobody need know which of them it is.
 */
final class Odds {
    /** From this share of its group a cause is named instead of the group. */
    private static final double TOLD_APART = 0.6;

    private static final double LN_2 = StrictMath.log(2);

    /** @param of the cause of the diagnosis that it is, or is a part of */
    private record Hypothesis(Cause cause, Cause of) {}

    private final QuestionBook book;
    private final List<Hypothesis> hypotheses;
    /** In the order of the hypotheses; the last one is that of none of them. */
    private final double[] probabilities;

    private Odds(QuestionBook book, List<Hypothesis> hypotheses, double[] probabilities) {
        this.book = book;
        this.hypotheses = hypotheses;
        this.probabilities = probabilities;
    }

    static Odds of(QuestionBook book, List<ProbableCause> probable) {
        Map<Hypothesis, Double> each = new LinkedHashMap<>();
        double none = 1;
        for (ProbableCause one : probable) {
            none -= one.probability();
            book.partsOf(one.cause())
                    .forEach((part, share) -> each.put(new Hypothesis(part, one.cause()), share * one.probability()));
        }
        double[] probabilities = new double[each.size() + 1];
        int i = 0;
        for (double probability : each.values()) {
            probabilities[i++] = probability;
        }
        probabilities[i] = StrictMath.max(0, none);
        return new Odds(book, List.copyOf(each.keySet()), probabilities);
    }

    private double likelihood(Question question, int answer, int i) {
        return i < hypotheses.size()
                ? question.chance(answer, hypotheses.get(i).cause())
                : question.chanceOtherwise(answer);
    }

    /** How probable the answer is. */
    double chance(Question question, int answer) {
        double chance = 0;
        for (int i = 0; i < probabilities.length; i++) {
            chance += probabilities[i] * likelihood(question, answer, i);
        }
        return chance;
    }

    /** What is thought after the answer. */
    Odds after(Question question, int answer) {
        double[] logWeights = new double[probabilities.length];
        for (int i = 0; i < logWeights.length; i++) {
            logWeights[i] = StrictMath.log(probabilities[i]) + StrictMath.log(likelihood(question, answer, i));
        }
        return new Odds(book, hypotheses, Posterior.of(logWeights));
    }

    /** Bits that an answer tells on average of which work it will be. */
    double gainBits(Question question) {
        double gain = 0;
        for (int answer = 0; answer < question.answers().size(); answer++) {
            double ofAnswer = chance(question, answer);
            for (Work work : works(question, answer)) {
                if (work.withAnswer > 0) {
                    gain += work.withAnswer * StrictMath.log(work.withAnswer / (work.probability * ofAnswer)) / LN_2;
                }
            }
        }
        return StrictMath.max(0, gain);
    }

    /** What some causes lead to. */
    private static final class Work {
        private double probability;
        private double withAnswer;
    }

    private Collection<Work> works(Question question, int answer) {
        Map<String, Work> works = new LinkedHashMap<>();
        for (int i = 0; i < probabilities.length; i++) {
            String name = i < hypotheses.size() ? book.workOf(hypotheses.get(i).cause()) : "";
            Work work = works.computeIfAbsent(name, n -> new Work());
            work.probability += probabilities[i];
            work.withAnswer += probabilities[i] * likelihood(question, answer, i);
        }
        return works.values();
    }

    /**
     * Causes with their probabilities, most probable first. One that stands for several stands for them still, unless one of
     * them has most of its probability by now.
     */
    Map<Cause, Double> ranked() {
        Map<Cause, Double> sums = new EnumMap<>(Cause.class);
        Map<Cause, Double> most = new EnumMap<>(Cause.class);
        for (int i = 0; i < hypotheses.size(); i++) {
            sums.merge(hypotheses.get(i).of(), probabilities[i], Double::sum);
            most.merge(hypotheses.get(i).of(), probabilities[i], StrictMath::max);
        }
        Map<Cause, Double> shown = new EnumMap<>(Cause.class);
        for (int i = 0; i < hypotheses.size(); i++) {
            Hypothesis each = hypotheses.get(i);
            boolean isApart = most.getOrDefault(each.of(), 0.0) >= TOLD_APART * sums.getOrDefault(each.of(), 0.0);
            shown.merge(isApart ? each.cause() : each.of(), probabilities[i], Double::sum);
        }
        Map<Cause, Double> ranked = new LinkedHashMap<>();
        shown.entrySet().stream()
                .sorted(Map.Entry.<Cause, Double>comparingByValue(Comparator.reverseOrder())
                        .thenComparing(Map.Entry.comparingByKey()))
                .forEach(entry -> ranked.put(entry.getKey(), entry.getValue()));
        return ranked;
    }
}
