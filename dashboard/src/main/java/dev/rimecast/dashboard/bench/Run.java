package dev.rimecast.dashboard.bench;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * A question about the past.
 *
 * @param kind {@code back-test} or {@code sweep}
 * @param state {@code waiting}, {@code running}, {@code done}, {@code cancelled} or {@code failed}
 * @param base number of the version whose numbers were changed
 * @param days back from the end of the history
 * @param changes that were asked about; for a sweep none
 * @param problem why it failed
 */
public record Run(
        int id,
        String kind,
        String state,
        String by,
        Instant askedAt,
        int base,
        int days,
        List<Sheet.Change> changes,
        Optional<String> problem,
        Optional<Progress> progress,
        Optional<BackTest> backTest,
        Optional<Sweep> sweep)
        implements Asked<Run> {

    public Run {
        changes = List.copyOf(changes);
    }

    @Override
    public Run in(String next, Optional<String> why, Optional<Progress> far) {
        return new Run(id, kind, next, by, askedAt, base, days, changes, why, far, backTest, sweep);
    }

    /** For a list. */
    public Run brief() {
        return new Run(
                id,
                kind,
                state,
                by,
                askedAt,
                base,
                days,
                changes,
                problem,
                progress,
                Optional.empty(),
                Optional.empty());
    }

    /**
     * Two policies on the same past.
     *
     * @param from beginning of the time that is judged
     * @param liveSame whether the policies in force give exactly what was raised live
     * @param live the same in words
     * @param liveLater revisions of the last minutes that were left out of that
     * @param policy the changed numbers as a policy, in text
     * @param report all of it as the command line says it
     * @param byMachineCount of all machines with a problem or an alert, also those that are not listed
     * @param byMachine where the policies differ first
     * @param byCause those with a problem or an alert; the last may be of none
     */
    public record BackTest(
            Instant from,
            Instant to,
            int machines,
            double machineYears,
            long cycles,
            boolean liveSame,
            String live,
            Figures current,
            Figures candidate,
            List<OfCause> causes,
            Known known,
            long differenceCount,
            List<Differing> differences,
            long liveLater,
            String policy,
            String report,
            int byMachineCount,
            List<MachineSides> byMachine,
            List<CauseSides> byCause) {
        public BackTest {
            byMachine = List.copyOf(byMachine);
            byCause = List.copyOf(byCause);
            causes = List.copyOf(causes);
            differences = List.copyOf(differences);
        }
    }

    /**
     * How good alerts were, held against what is known.
     *
     * @param foundShare interval of the share of the problems that were known before their time; absent without problems
     * @param rightShare the same of the alerts that were right, of those that are known to be right or wrong
     * @param leadHours median, of the problems that were known before their time
     * @param leadEnds its interval, hours; absent for fewer than five
     * @param wrongRate wrong alerts a sound machine-year, with the ends of its 90 % interval
     * @param leadOfAllHours median of all problems, one that was missed with none; absent without problems
     * @param avoidedEnds interval of so many visits in such a time, as of the other two
     */
    public record Figures(
            int problems,
            int found,
            int right,
            int wrong,
            int unlabelled,
            int contradicting,
            int placesAndLinks,
            int care,
            Optional<Ends> foundShare,
            Optional<Ends> rightShare,
            OptionalDouble leadHours,
            Optional<Ends> leadEnds,
            OptionalDouble wrongRate,
            OptionalDouble wrongRateLow,
            OptionalDouble wrongRateHigh,
            int avoided,
            int planned,
            int wasted,
            OptionalDouble leadOfAllHours,
            Ends avoidedEnds,
            Ends plannedEnds,
            Ends wastedEnds) {}

    /** Of an interval of 90 %. */
    public record Ends(double low, double high) {}

    /** Problems of a cause, how many each policy knew before their time, and the interval of either share. */
    public record OfCause(
            String cause, int problems, int current, int candidate, Ends currentShare, Ends candidateShare) {}

    /**
     * What each policy made of a machine.
     *
     * @param name of the machine; of the site for a call that names no machine; empty for alerts about neither
     * @param differs whether the policies differ about it
     * @param plots that show the most telling of it; absent where it is about no machine
     */
    public record MachineSides(String name, boolean differs, Sums current, Sums candidate, Optional<Plots> plots) {}

    /**
     * What each policy made of a cause: problems by the cause that is known, alerts by the one that they named first.
     *
     * @param cause empty: nobody knows it, or none was named
     * @param currentShare interval of the share of its problems that were known before their time; absent without problems
     * @param plots that show it, one for a machine, the most telling first
     */
    public record CauseSides(
            String cause,
            boolean differs,
            Sums current,
            Sums candidate,
            Optional<Ends> currentShare,
            Optional<Ends> candidateShare,
            List<Plots> plots) {
        public CauseSides {
            plots = List.copyOf(plots);
        }
    }

    /**
     * Problems, and alerts about machines.
     *
     * @param found problems that were known before their time
     * @param earlier of those that both policies knew, how many this one knew earlier
     * @param later the same the other way round
     */
    public record Sums(
            int problems, int found, int earlier, int later, int right, int wrong, int unlabelled, int contradicting) {}

    /** Around when a machine's plots should be looked at. */
    public record Plots(String machine, Instant at) {}

    /** What is known: where labels come from, and the time for which a machine is known to have been sound. */
    public record Known(int marks, int visits, int calls, double soundYears, int unknownMachines) {}

    /**
     * Values of one number on the same past, or combinations of two.
     *
     * @param second the other number, where there is one
     * @param best index of the cheapest; 0 is the policy as it is
     * @param choice index of the one nearest to the policy as it is of those that are equal to the cheapest within one standard error
     * @param proposed index of what is proposed; 0: nothing
     * @param outcome {@code proposed}, or why nothing is: {@code none-cheaper}, {@code within-error}, {@code not-held} or
     *     {@code not-over-time}
     * @param unsure standard error of the difference between {@code unseen} and the policy as it is; empty with one machine
     * @param unseen what choices cost on machines that they had not seen
     * @param parts into which the machines were dealt for that
     * @param marks of analysts, against which alerts were held beside visits and calls
     * @param policy what is proposed as a policy, in text; the policy as it is where nothing is
     * @param report all of it as the command line says it
     */
    public record Sweep(
            String path,
            Bench.Costs costs,
            Instant from,
            Instant to,
            double machineYears,
            List<Point> points,
            int best,
            int choice,
            int proposed,
            String outcome,
            double unseen,
            OptionalDouble unsure,
            int parts,
            int marks,
            String policy,
            String report,
            Optional<String> second) {
        public Sweep {
            points = List.copyOf(points);
        }
    }

    /**
     * One value; the first is the policy as it is.
     *
     * @param second that of the other number, where there is one
     * @param alertsAYear alerts a machine-year, of which nobody need know whether they were right
     * @param frontier whether no other value has a longer lead of all problems with no more wrong alerts, or fewer with no shorter one; where no
     *     sound time is known, of all alerts instead of wrong ones
     */
    public record Point(
            double value, double cost, Figures figures, double alertsAYear, boolean frontier, OptionalDouble second) {}
}
