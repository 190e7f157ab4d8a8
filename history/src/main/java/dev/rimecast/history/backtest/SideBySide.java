package dev.rimecast.history.backtest;

import dev.rimecast.telemetry.file.result.AlertRow;
import dev.rimecast.telemetry.finding.Cause;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.function.Function;

/**
 * What one policy, or two, made of each machine and of each cause.
 *
 * <p>Conservation: over all machines, and over all causes, problems and alerts of each kind add up to those of {@link Judged}.
 *
 * @param machines those with a problem or an alert: where policies differ first, then what was missed or wrong
 * @param causes the same by cause, in the order of {@link Cause}; a problem goes by the cause that is known, an alert by the one that it named first
 */
public record SideBySide(List<OfMachine> machines, List<OfCause> causes) {
    /** Machines that are named for a cause. */
    static final int MOST_LOOKS = 5;

    public SideBySide {
        machines = List.copyOf(machines);
        causes = List.copyOf(causes);
    }

    /**
     * What a policy made of something.
     *
     * @param found problems that were known before their time
     * @param earlier of those that the other policy knew, too, how many this one knew earlier; 0 with one policy
     * @param later the same the other way round
     */
    public record Sums(
            int problems, int found, int earlier, int later, int right, int wrong, int unlabelled, int contradicting) {
        public int missed() {
            return problems - found;
        }

        /** About machines, of every kind. */
        int alerts() {
            return right + wrong + unlabelled + contradicting;
        }
    }

    /**
     * What each policy made of a machine.
     *
     * @param name of the machine; of the site for a call that names no machine; empty for alerts about neither
     * @param differs whether it is not the same with both policies
     * @param look where its plots show the most telling of it; empty where it is about no machine
     */
    public record OfMachine(String name, List<Sums> sums, boolean differs, Optional<Look> look) {
        public OfMachine {
            sums = List.copyOf(sums);
        }
    }

    /**
     * What each policy made of a cause.
     *
     * @param cause empty: nobody knows it, or no cause was named
     * @param looks where plots show it, one for a machine, the most telling first
     */
    public record OfCause(Optional<Cause> cause, List<Sums> sums, boolean differs, List<Look> looks) {
        public OfCause {
            sums = List.copyOf(sums);
            looks = List.copyOf(looks);
        }
    }

    /**
     * Lays them beside each other.
     *
     * @param judged one or two, held against the same labels
     * @throws IllegalArgumentException if they were held against others
     */
    public static SideBySide of(List<Judged> judged) {
        Map<String, Tally> machines = new TreeMap<>();
        Map<Integer, Tally> causes = new TreeMap<>();
        for (List<Judged.Problem> each : problems(judged)) {
            tally(machines, each.get(0).subject(), judged).problem(each);
            tally(causes, place(each.get(0).cause()), judged).problem(each);
        }
        for (int policy = 0; policy < judged.size(); policy++) {
            for (Verdict verdict : Verdict.values()) {
                Set<String> others = ids(judged, policy, verdict, AlertRow::alert);
                Set<String> othersAndCauses = ids(judged, policy, verdict, SideBySide::alertAndCause);
                for (AlertRow alert : verdict.of(judged.get(policy))) {
                    boolean isAlone = judged.size() > 1 && !others.contains(alert.alert());
                    tally(machines, alert.machine().orElse(""), judged).alert(policy, verdict, alert, isAlone);
                    boolean isOfOtherCause = judged.size() > 1 && !othersAndCauses.contains(alertAndCause(alert));
                    tally(causes, place(named(alert)), judged).alert(policy, verdict, alert, isOfOtherCause);
                }
            }
        }
        return new SideBySide(ofMachines(machines), ofCauses(causes));
    }

    /** Each problem as each policy found it: the same labels give the same problems in the same order. */
    static List<List<Judged.Problem>> problems(List<Judged> judged) {
        List<List<Judged.Problem>> problems = new ArrayList<>();
        for (Judged policy : judged) {
            if (policy.problems().size() != judged.get(0).problems().size()) {
                throw new IllegalArgumentException("policies were held against different labels");
            }
        }
        for (int i = 0; i < judged.get(0).problems().size(); i++) {
            int at = i;
            List<Judged.Problem> each =
                    judged.stream().map(policy -> policy.problems().get(at)).toList();
            if (each.stream().map(Judged.Problem::key).distinct().count() > 1) {
                throw new IllegalArgumentException("policies were held against different labels");
            }
            problems.add(each);
        }
        return problems;
    }

    /** What an alert turned out to be. */
    enum Verdict {
        RIGHT,
        WRONG,
        UNLABELLED,
        CONTRADICTING;

        List<AlertRow> of(Judged judged) {
            return switch (this) {
                case RIGHT -> judged.right();
                case WRONG -> judged.wrong();
                case UNLABELLED -> judged.unlabelled();
                case CONTRADICTING -> judged.contradicting();
            };
        }
    }

    private static <K> Tally tally(Map<K, Tally> tallies, K key, List<Judged> judged) {
        return tallies.computeIfAbsent(key, each -> new Tally(judged.size()));
    }

    /** What has no cause comes last. */
    private static int place(Optional<Cause> cause) {
        return cause.map(Cause::ordinal).orElse(Integer.MAX_VALUE);
    }

    private static Optional<Cause> named(AlertRow alert) {
        return alert.causes().stream().findFirst().map(first -> first.cause());
    }

    /** Alerts of the other policy of which the same is said. */
    /** Of the same alert policies may name other causes first. */
    private static String alertAndCause(AlertRow alert) {
        return alert.alert() + ' ' + place(named(alert));
    }

    private static Set<String> ids(List<Judged> judged, int policy, Verdict verdict, Function<AlertRow, String> what) {
        Set<String> ids = new HashSet<>();
        for (int other = 0; other < judged.size(); other++) {
            if (other != policy) {
                verdict.of(judged.get(other)).forEach(alert -> ids.add(what.apply(alert)));
            }
        }
        return ids;
    }

    private static List<OfMachine> ofMachines(Map<String, Tally> tallies) {
        List<OfMachine> machines = new ArrayList<>();
        tallies.forEach((name, tally) -> machines.add(new OfMachine(
                name, tally.sums(), tally.differs(), tally.looks(1).stream().findFirst())));
        machines.sort(Comparator.comparing(OfMachine::differs)
                .reversed()
                .thenComparing(Comparator.comparingInt(SideBySide::trouble).reversed())
                .thenComparing(OfMachine::name));
        return machines;
    }

    private static int trouble(OfMachine machine) {
        return machine.sums().stream()
                .mapToInt(each -> each.missed() + each.wrong())
                .max()
                .orElse(0);
    }

    private static List<OfCause> ofCauses(Map<Integer, Tally> tallies) {
        List<OfCause> causes = new ArrayList<>();
        tallies.forEach((place, tally) -> causes.add(new OfCause(
                place == Integer.MAX_VALUE ? Optional.empty() : Optional.of(Cause.values()[place]),
                tally.sums(),
                tally.differs(),
                tally.looks(MOST_LOOKS))));
        return causes;
    }
}
