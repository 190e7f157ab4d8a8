package dev.rimecast.history.fleet;

import static java.util.stream.Collectors.groupingBy;
import static java.util.stream.Collectors.toList;
import static java.util.stream.Collectors.toSet;

import dev.rimecast.analytics.statistics.Median;
import dev.rimecast.history.fleet.FleetLook.OfMachine;
import dev.rimecast.history.fleet.FleetReport.GroupDiffers;
import dev.rimecast.history.fleet.Scope.Reason;
import dev.rimecast.telemetry.cycle.Feature;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.function.UnaryOperator;

/**
 * Model groups that are another kind. Each machine is measured by its own expectation, so a group stands apart where its machines have all
 * changed, or where the group's prior is wrong for new ones.
 */
final class Groups {
    /** Fewer say more about themselves than about their kind. */
    private static final int ENOUGH_MACHINES = 5;

    private static final double DIFFERENT = 0.5;
    private static final double SURE = 3;
    /** Of the median absolute deviation to the standard deviation, of a normal distribution. */
    private static final double MAD_TO_SIGMA = 1.4826;
    /** Standard error of a median over that of a mean, of a normal distribution: the root of pi / 2. */
    private static final double MEDIAN_TO_MEAN = Math.sqrt(Math.PI / 2);

    private final List<GroupDiffers> different = new ArrayList<>();
    private final Set<String> judged;
    private final Set<String> enough = new HashSet<>();
    private final Set<String> compared = new HashSet<>();
    private final UnaryOperator<String> groupOf;

    private Groups(List<OfMachine> machines, UnaryOperator<String> groupOf) {
        this.groupOf = groupOf;
        this.judged = machines.stream().map(OfMachine::machine).collect(toSet());
    }

    static Groups of(List<OfMachine> machines, UnaryOperator<String> groupOf) {
        Groups groups = new Groups(machines, groupOf);
        machines.stream()
                .collect(groupingBy(OfMachine::feature, TreeMap::new, toList()))
                .forEach(groups::compare);
        return groups;
    }

    private void compare(Feature feature, List<OfMachine> all) {
        Map<String, List<OfMachine>> groups = all.stream()
                .filter(each -> !groupOf.apply(each.machine()).isEmpty())
                .collect(groupingBy(each -> groupOf.apply(each.machine()), TreeMap::new, toList()));
        groups.forEach((group, members) -> {
            double[] mine = medians(members);
            double[] others = medians(all.stream()
                    .filter(each -> !groupOf.apply(each.machine()).equals(group))
                    .toList());
            if (mine.length < ENOUGH_MACHINES) {
                return;
            }
            enough.add(group);
            if (others.length < ENOUGH_MACHINES) {
                return;
            }
            compared.add(group);
            if (isDifferent(mine, others)) {
                different.add(new GroupDiffers(group, feature, mine.length, median(mine), median(others)));
            }
        });
    }

    List<GroupDiffers> different() {
        return different.stream()
                .sorted(Comparator.comparingDouble((GroupDiffers each) -> -Math.abs(each.median() - each.others())))
                .toList();
    }

    /** Why a machine is compared with no other kind in any feature. */
    Optional<Reason> leftOut(String machine) {
        String group = groupOf.apply(machine);
        if (!judged.contains(machine)) {
            return Optional.of(Reason.NOT_JUDGED);
        }
        if (group.isEmpty()) {
            return Optional.of(Reason.NO_GROUP);
        }
        if (compared.contains(group)) {
            return Optional.empty();
        }
        return Optional.of(enough.contains(group) ? Reason.NO_OTHERS : Reason.SMALL_GROUP);
    }

    private static boolean isDifferent(double[] mine, double[] others) {
        double difference = Math.abs(median(mine) - median(others));
        return difference >= DIFFERENT && difference >= SURE * Math.hypot(error(mine), error(others));
    }

    private static double error(double[] values) {
        double median = median(values);
        double[] away =
                Arrays.stream(values).map(value -> Math.abs(value - median)).toArray();
        return MEDIAN_TO_MEAN * MAD_TO_SIGMA * median(away) / Math.sqrt(values.length);
    }

    private static double[] medians(List<OfMachine> machines) {
        return machines.stream().mapToDouble(OfMachine::median).toArray();
    }

    private static double median(double[] values) {
        return Median.of(values, values.length);
    }
}
