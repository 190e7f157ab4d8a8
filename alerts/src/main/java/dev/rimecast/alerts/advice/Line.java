package dev.rimecast.alerts.advice;

import java.util.List;
import java.util.function.BiFunction;
import java.util.stream.Stream;

/**
 * One line of an entry, and which kinds of machine it is for.
 *
 * @param <T> what it says
 */
record Line<T>(T content, Fit fit) {

    /**
     * What is said of one kind of machine: what fits, and what may fit in words that say so.
     *
     * @param ifIt says the content with the condition that nobody knows
     */
    static <T> List<T> of(List<Line<T>> lines, MachineKind kind, KindWords words, BiFunction<T, String, T> ifIt) {
        return lines.stream()
                .flatMap(line -> {
                    if (!line.fit().mayBe(kind)) {
                        return Stream.empty();
                    }
                    String open = line.fit().open(kind, words);
                    return Stream.of(open.isEmpty() ? line.content() : ifIt.apply(line.content(), open));
                })
                .toList();
    }
}
