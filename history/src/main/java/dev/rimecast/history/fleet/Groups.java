package dev.rimecast.history.fleet;

import static java.util.stream.Collectors.groupingBy;
import static java.util.stream.Collectors.toList;

import dev.rimecast.analytics.statistics.Median;
import dev.rimecast.history.fleet.FleetLook.OfMachine;
import dev.rimecast.history.fleet.FleetReport.GroupDiffers;
import dev.rimecast.telemetry.cycle.Feature;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
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

    private Groups() {}

    static List<GroupDiffers> different(List<OfMachine> machines, UnaryOperator<String> groupOf) {
        List<GroupDiffers> different = new ArrayList<>();
        Map<Feature, List<OfMachine>> features =
                machines.stream().collect(groupingBy(OfMachine::feature, TreeMap::new, toList()));
        features.forEach((feature, all) -> {
            Map<String, List<OfMachine>> groups = all.stream()
                    .filter(each -> !groupOf.apply(each.machine()).isEmpty())
                    .collect(groupingBy(each -> groupOf.apply(each.machine()), TreeMap::new, toList()));
            groups.forEach((group, members) -> {
                double[] mine = medians(members);
                double[] others = medians(all.stream()
                        .filter(each -> !groupOf.apply(each.machine()).equals(group))
                        .toList());
                if (mine.length >= ENOUGH_MACHINES && others.length >= ENOUGH_MACHINES && isDifferent(mine, others)) {
                    different.add(new GroupDiffers(group, feature, mine.length, median(mine), median(others)));
                }
            });
        });
        return different.stream()
                .sorted(Comparator.comparingDouble((GroupDiffers each) -> -Math.abs(each.median() - each.others())))
                .toList();
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
