package dev.rimecast.history.backtest;

import dev.rimecast.telemetry.file.result.AlertRow;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.IntStream;

/** Counts for each policy what came of one machine or one cause, and where its plots should be looked at. */
final class Tally {
    private final int[] found;
    private final int[] earlier;
    private final int[][] alerts;
    private final List<Ranked> looks = new ArrayList<>();
    private int problems;
    private boolean differs;

    private record Ranked(Rank rank, Look look) {}

    /** The most telling first. */
    private enum Rank {
        PROBLEM_DIFFERS,
        WRONG_DIFFERS,
        ALERT_DIFFERS,
        MISSED,
        WRONG,
        OTHER
    }

    Tally(int policies) {
        found = new int[policies];
        earlier = new int[policies];
        alerts = new int[policies][SideBySide.Verdict.values().length];
    }

    /** @param each the same problem, as each policy found it or did not */
    void problem(List<Judged.Problem> each) {
        problems++;
        List<Optional<Duration>> leads = each.stream().map(Judged.Problem::lead).toList();
        boolean isOther = leads.stream().distinct().count() > 1;
        for (int policy = 0; policy < each.size(); policy++) {
            Optional<Duration> own = leads.get(policy);
            found[policy] += own.isPresent() ? 1 : 0;
            earlier[policy] += own.isPresent()
                            && leads.stream().allMatch(Optional::isPresent)
                            && leads.stream().anyMatch(lead -> lead.get().compareTo(own.get()) < 0)
                    ? 1
                    : 0;
        }
        differs |= isOther;
        Rank rank =
                isOther ? Rank.PROBLEM_DIFFERS : leads.stream().anyMatch(Optional::isEmpty) ? Rank.MISSED : Rank.OTHER;
        Look.of(each).ifPresent(look -> looks.add(new Ranked(rank, look)));
    }

    /** @param isAlone whether the other policy has no such alert, or another verdict on it */
    void alert(int policy, SideBySide.Verdict verdict, AlertRow alert, boolean isAlone) {
        alerts[policy][verdict.ordinal()]++;
        differs |= isAlone;
        boolean isWrong = verdict == SideBySide.Verdict.WRONG;
        Rank rank = isAlone ? isWrong ? Rank.WRONG_DIFFERS : Rank.ALERT_DIFFERS : isWrong ? Rank.WRONG : Rank.OTHER;
        alert.machine().ifPresent(machine -> looks.add(new Ranked(rank, new Look(machine, alert.raisedAt()))));
    }

    boolean differs() {
        return differs;
    }

    List<SideBySide.Sums> sums() {
        return IntStream.range(0, found.length)
                .mapToObj(policy -> new SideBySide.Sums(
                        problems,
                        found[policy],
                        earlier[policy],
                        IntStream.range(0, earlier.length)
                                .filter(other -> other != policy)
                                .map(other -> earlier[other])
                                .sum(),
                        alerts[policy][SideBySide.Verdict.RIGHT.ordinal()],
                        alerts[policy][SideBySide.Verdict.WRONG.ordinal()],
                        alerts[policy][SideBySide.Verdict.UNLABELLED.ordinal()],
                        alerts[policy][SideBySide.Verdict.CONTRADICTING.ordinal()]))
                .toList();
    }

    /** The most telling first, of those the newest, whose plots are the likeliest to be there; one for each machine. */
    List<Look> looks(int most) {
        looks.sort(Comparator.comparing(Ranked::rank)
                .thenComparing(ranked -> ranked.look().at(), Comparator.reverseOrder())
                .thenComparing(ranked -> ranked.look().machine()));
        List<Look> chosen = new ArrayList<>();
        Set<String> machines = new HashSet<>();
        for (Ranked each : looks) {
            if (chosen.size() < most && machines.add(each.look().machine())) {
                chosen.add(each.look());
            }
        }
        return chosen;
    }
}
