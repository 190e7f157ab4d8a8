package dev.rimecast.analytics.question;

import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.machine.Machine;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;

/**
 * A question, or a safe action whose result is told, and how probable each answer is under each cause. Its sentences are in
 * the module that shows them.
 *
 * @param number names it in stored state; never given to another question
 * @param minutes what it costs whoever answers
 * @param cooling kinds of condenser that it makes sense for; every kind if empty
 * @param drain kinds of drain that it makes sense for; every kind if empty
 * @param needsRunning whether only a machine that makes ice can answer it
 * @param answers codes; their order is part of stored state, so new ones come at the end
 * @param putsRight answers that say that something was found and put right in the same go
 * @param given probability of each answer under the causes that it speaks about; each row adds up to 1
 * @param otherwise the same under every other cause, known or not
 */
record Question(
        String id,
        int number,
        Who who,
        int minutes,
        Set<Machine.Cooling> cooling,
        Set<Machine.DrainKind> drain,
        boolean needsRunning,
        List<String> answers,
        Set<String> putsRight,
        Map<Cause, List<Double>> given,
        List<Double> otherwise) {

    /** Who can answer. */
    enum Who {
        SITE,
        OPERATOR,
        ENGINEER;

        String code() {
            return name().toLowerCase(Locale.ROOT);
        }
    }

    Question {
        cooling = Set.copyOf(cooling);
        drain = Set.copyOf(drain);
        answers = List.copyOf(answers);
        putsRight = Set.copyOf(putsRight);
        given = Map.copyOf(given);
        otherwise = List.copyOf(otherwise);
    }

    boolean isFor(Machine machine) {
        return (cooling.isEmpty() || cooling.contains(machine.condenserCooling()))
                && (drain.isEmpty() || drain.contains(machine.drainKind()));
    }

    double chance(int answer, Cause cause) {
        return given.getOrDefault(cause, otherwise).get(answer);
    }

    double chanceOtherwise(int answer) {
        return otherwise.get(answer);
    }
}
