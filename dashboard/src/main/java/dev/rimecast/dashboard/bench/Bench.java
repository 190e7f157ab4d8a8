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

    /** What each of these values of one number, or every combination of those of two, would have cost. */
    Answer<Run> sweep(List<Tried> numbers, Costs costs, int days, Person who);

    /** A number, and the values to try. */
    record Tried(String path, List<Double> values) {
        public Tried {
            values = List.copyOf(values);
        }
    }

    /** Ends one that waits or runs; false where there is none. */
    boolean cancel(int run);

    /**
     * Begins to reckon what these numbers would have made of the last months, and ends what the same person asked before. Without
     * changes it only gets ready.
     */
    Answer<Effect> effect(Map<String, Double> changes, Person who);

    /** How far it is; empty where it is none of the last ones. */
    Optional<Effect> effect(int id);

    /** A policy as a file has it, held against the one in force; nothing is changed. */
    FileRead read(String yaml);

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

    /** What a file came to. */
    sealed interface FileRead {
        /**
         * It is a policy.
         *
         * @param name its version
         * @param ofAll differences for all machines, which can be changed here
         * @param ofGroups differences for model groups, which can't
         */
        record Read(String name, List<Sheet.Change> ofAll, List<Sheet.Change> ofGroups) implements FileRead {
            public Read {
                ofAll = List.copyOf(ofAll);
                ofGroups = List.copyOf(ofGroups);
            }
        }

        /** It is none. */
        record Unreadable(List<Wrong> problems) implements FileRead {
            public Unreadable {
                problems = List.copyOf(problems);
            }
        }

        /**
         * A place of the file, and what to do about it.
         *
         * @param line from 1; 0 where it is of the whole
         * @param key empty where it is of a line
         */
        record Wrong(int line, String key, String what) {}
    }

    /** @param what is wrong and what it may be */
    record WrongNumber(String path, String what) {}
}
