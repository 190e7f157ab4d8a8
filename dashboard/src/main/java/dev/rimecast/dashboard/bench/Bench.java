package dev.rimecast.dashboard.bench;

import dev.rimecast.alerts.view.Person;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Thresholds, and their past. The wiring answers, since detection and the history are known to nobody here. What comes of a
 * question about the past takes long, so it is a {@link Run}.
 *
 * <p>Changes are by path of a number, for all machines.
 */
public interface Bench {
    /** The policy in force. */
    Sheet sheet();

    /** Every policy that was ever in force, the newest first. */
    List<Version> versions();

    Optional<Version.Whole> version(int number);

    /**
     * Puts changed numbers into force.
     *
     * @param expected number of the version that was looked at
     * @param why never blank
     */
    Answer<Sheet> change(int expected, Map<String, Double> changes, Person who, String why);

    /** Takes up an earlier version again. */
    Answer<Sheet> rollBack(int expected, int to, Person who, String why);

    /** The newest first, without their differences. */
    List<Trial> trials();

    Optional<Trial> trial(int id);

    Answer<Trial> tryOut(Map<String, Double> changes, Person who, String why);

    Answer<Sheet> promote(int trial, int expected, Person who, String why);

    Answer<Trial> drop(int trial, Person who, String why);

    /** The newest first, without their results; those of before the last start are gone. */
    List<Run> runs();

    Optional<Run> run(int id);

    /** What would have been otherwise with these numbers, since so many days ago. */
    Answer<Run> backTest(Map<String, Double> changes, int days, Person who);

    /** What each of these values of one number would have cost. */
    Answer<Run> sweep(String path, List<Double> values, Costs costs, int days, Person who);

    /** Ends one that waits or runs; false where there is none. */
    boolean cancel(int run);

    /** The last looks at the fleet itself. */
    Look.Looks looks();

    /**
     * Looks at the fleet itself. One is under way at a time: whoever asks meanwhile gets that one.
     *
     * @param days how far back sensors are looked at
     * @param fitDays how far back expectations are looked at
     */
    Answer<Look> look(int days, int fitDays, Person who);

    /** Ends the look that waits or runs; false where there is none. */
    boolean endLook();

    /** A firm's own figures: a wasted visit, a problem that nobody knew of in time, an hour that it was known too late. */
    record Costs(double visit, double stop, double late) {}

    /** What came of asking for a change. */
    sealed interface Answer<T> {
        record Done<T>(T value) implements Answer<T> {}

        /** Somebody else changed it in the meantime. */
        record Changed<T>(Version current) implements Answer<T> {}

        /** It is so already. */
        record Same<T>() implements Answer<T> {}

        /** There is no such thing, or it has ended. */
        record Unknown<T>() implements Answer<T> {}

        /** Numbers that can't be. */
        record Wrong<T>(List<WrongNumber> problems) implements Answer<T> {
            public Wrong {
                problems = List.copyOf(problems);
            }
        }

        /** Not now, or not here; says why and what to do. */
        record NotPossible<T>(String why) implements Answer<T> {}
    }

    /** @param what is wrong and what it may be */
    record WrongNumber(String path, String what) {}
}
