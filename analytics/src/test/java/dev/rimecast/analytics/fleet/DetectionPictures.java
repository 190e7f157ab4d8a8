package dev.rimecast.analytics.fleet;

import dev.rimecast.analytics.policy.ChangeLimits;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.statistics.CusumDesign;
import dev.rimecast.analytics.statistics.EwmaDesign;
import dev.rimecast.analytics.statistics.Median;
import dev.rimecast.analytics.statistics.TheilSen;
import dev.rimecast.simulator.fleet.SimulatedFleet;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.cycle.Cycle.Residual;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.reading.Reading;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;

/**
 * Makes the pictures of {@code docs/detection.md} from simulated machines. To run it, in the main directory:
 *
 * <pre>{@code
 * ./rimecast --version && mvn -B -q '-P!checked' -pl analytics -am test-compile
 * java -cp analytics/target/test-classes:app/target/rimecast.jar dev.rimecast.analytics.fleet.DetectionPictures \
 *     docs/images/detection
 * }</pre>
 */
public final class DetectionPictures {
    private static final String ONSET = "fault begins";
    private static final String RAISED = "raised";

    private final PictureFleet fleet = PictureFleet.watched();
    private final GroupPolicy policy = Policy.standard().forGroup(Optional.empty());

    public static void main(String[] arguments) throws IOException {
        Path directory = Path.of(arguments[0]);
        Files.createDirectories(directory);
        for (Map.Entry<String, Plot> picture : new DetectionPictures().all().entrySet()) {
            Files.writeString(
                    directory.resolve(picture.getKey() + ".svg"),
                    picture.getValue().toSvg());
            System.out.println(picture.getKey());
        }
    }

    private Map<String, Plot> all() {
        Map<String, Plot> pictures = new TreeMap<>();
        pictures.put("1-cycle", cycle());
        pictures.put("2-expectation", expectation());
        pictures.put("3-residuals", residuals());
        pictures.put("4-charts", charts());
        pictures.put("5-run-lengths", runLengths());
        pictures.put("6-drift-and-step", driftAndStep());
        pictures.put("7-forecast", forecast());
        pictures.put("8-causes", causes());
        return pictures;
    }

    private Plot cycle() {
        Cycle cycle = fleet.cycles("sound").stream()
                .filter(Cycle::complete)
                .filter(c -> c.freezeStart().isAfter(PictureFleet.FROM.plus(Duration.ofDays(2))))
                .findFirst()
                .orElseThrow();
        long start = cycle.freezeStart().toEpochMilli();
        List<double[]> evaporator = new ArrayList<>();
        List<double[]> condenser = new ArrayList<>();
        for (Reading reading : readings("sound", cycle.freezeStart().plus(Duration.ofHours(1)))) {
            double[] point = {(reading.timeMillis() - start) / 60_000.0, reading.value()};
            if (point[0] < -8 || point[0] > 40) {
                continue;
            } else if (reading.channel() == Channel.EVAPORATOR_TEMPERATURE) {
                evaporator.add(point);
            } else if (reading.channel() == Channel.CONDENSER_TEMPERATURE) {
                condenser.add(point);
            }
        }
        double freeze = cycle.freezeSeconds().orElseThrow() / 60;
        return new Plot("One cycle: what is measured in it", "minutes since the freeze began", "°C", -8, 40, -20, 85)
                .line("a", "evaporator", evaporator)
                .line("b dash", "condensing", condenser)
                .mark(0, "freeze begins")
                .mark(cycle.pullDownSeconds().orElseThrow() / 60, "0 °C: end of pull-down")
                .mark(freeze, "freeze ends")
                .mark(freeze + cycle.harvestSeconds().orElseThrow() / 60, "harvest ends");
    }

    private static List<Reading> readings(String machine, Instant to) {
        List<Reading> readings = new ArrayList<>();
        new SimulatedFleet(PictureFleet.plan())
                .sites()
                .forEach(site -> readings.addAll(site.advanceTo(to).readings()));
        return readings.stream().filter(r -> r.machine().equals(machine)).toList();
    }

    private Plot expectation() {
        List<double[]> band = new ArrayList<>();
        for (Cycle cycle : fleet.cycles("sound")) {
            PictureFleet.residual(cycle, Feature.FREEZE)
                    .ifPresent(r -> band.add(new double[] {
                        PictureFleet.day(cycle.end()),
                        (r.expected() - 2 * r.sigma()) / 60,
                        (r.expected() + 2 * r.sigma()) / 60
                    }));
        }
        return new Plot(
                        "A hot week is no fault: a sound machine",
                        "day",
                        "freeze, minutes",
                        0,
                        PictureFleet.DAYS,
                        16,
                        30)
                .shade(PictureFleet.WARM_FROM_DAY, PictureFleet.WARM_TO_DAY, "9 K warmer")
                .band("a", "expected in these conditions, ± 2 deviations", band)
                .dots("b", "measured", fleet.residuals("sound", Feature.FREEZE, r -> r.measured() / 60), 1.4);
    }

    private Plot residuals() {
        return marked(
                new Plot(
                                "Residuals: what is left when the conditions are taken off",
                                "day",
                                "split, deviations",
                                0,
                                PictureFleet.DAYS,
                                -5,
                                30)
                        .dots(
                                "a",
                                "a sound machine",
                                fleet.residuals("sound", Feature.SPLIT, Residual::standardised),
                                1.4)
                        .dots(
                                "b",
                                "a condenser that fills with dust",
                                fleet.residuals("fouling", Feature.SPLIT, Residual::standardised),
                                1.4),
                "fouling",
                Condition.RISING_CONDENSING_TEMPERATURE);
    }

    private Plot marked(Plot plot, String machine, Condition condition) {
        plot.mark(PictureFleet.ONSET_DAY, ONSET);
        fleet.findings(machine, condition).stream()
                .findFirst()
                .ifPresent(f -> plot.mark(PictureFleet.day(f.at()), RAISED));
        return plot;
    }

    private Plot charts() {
        List<double[]> points = fleet.charts("leaking", Feature.FREEZE, policy);
        return marked(
                new Plot(
                                "The two charts of slow changes: a machine that loses refrigerant",
                                "day",
                                "share of the limit",
                                0,
                                PictureFleet.DAYS,
                                0,
                                2.2)
                        .line("a", "CUSUM of block medians", points)
                        .line(
                                "b dash",
                                "EWMA of block medians",
                                points.stream()
                                        .map(p -> new double[] {p[0], p[2]})
                                        .toList())
                        .level(1, "limit, from the wanted rate of false alarms"),
                "leaking",
                Condition.LONG_FREEZE);
    }

    private Plot runLengths() {
        ChangeLimits limits = policy.changeLimits();
        double weight = policy.get(PolicyNumber.EWMA_WEIGHT);
        double perDay = 24 / policy.get(PolicyNumber.BLOCK_HOURS);
        List<double[]> sum = new ArrayList<>();
        List<double[]> average = new ArrayList<>();
        for (double shift = 0.1; shift <= 2.0001; shift += 0.05) {
            double ofSum = CusumDesign.averageRunLength(policy.get(PolicyNumber.REFERENCE), limits.block(), shift);
            double ofAverage = EwmaDesign.averageRunLength(weight, limits.average() / EwmaDesign.sigma(weight), shift);
            sum.add(new double[] {shift, Math.log10(ofSum / perDay)});
            average.add(new double[] {shift, Math.log10(ofAverage / perDay)});
        }
        return new Plot(
                        "How long each chart takes, by the size of a lasting change",
                        "change of block medians, standard deviations",
                        "days to the alarm, on average",
                        0,
                        2,
                        0,
                        4)
                .logarithmic()
                .line("a", "CUSUM", sum)
                .line("b dash", "EWMA", average);
    }

    private Plot driftAndStep() {
        List<double[]> drift = daily("leaking");
        int from = PictureFleet.ONSET_DAY;
        List<double[]> since = drift.stream().filter(p -> p[0] >= from).toList();
        double[] x = since.stream().mapToDouble(p -> p[0]).toArray();
        double[] y = since.stream().mapToDouble(p -> p[1]).toArray();
        TheilSen line = TheilSen.of(x, y, x.length, 0.8);
        return new Plot(
                        "Drift or step: medians of days",
                        "day",
                        "freeze, % over expectation",
                        0,
                        PictureFleet.DAYS,
                        -10,
                        60)
                .dots("a", "loses refrigerant: drift", drift, 3)
                .line(
                        "a",
                        "Theil-Sen line",
                        List.of(
                                new double[] {from, line.intercept() + line.slope() * from},
                                new double[] {PictureFleet.DAYS, line.intercept() + line.slope() * PictureFleet.DAYS}))
                .dots("b", "probe came loose: step", daily("loose"), 3)
                .mark(from, "both faults begin");
    }

    private List<double[]> daily(String machine) {
        Map<Integer, List<Double>> days = new TreeMap<>();
        for (double[] point : fleet.residuals(machine, Feature.FREEZE, r -> 100 * (r.measured() / r.expected() - 1))) {
            days.computeIfAbsent((int) point[0], d -> new ArrayList<>()).add(point[1]);
        }
        List<double[]> medians = new ArrayList<>();
        days.forEach((day, values) -> medians.add(new double[] {
            day + 0.5, Median.of(values.stream().mapToDouble(v -> v).toArray(), values.size())
        }));
        return medians;
    }

    private Plot forecast() {
        double stopped = PictureFleet.day(fleet.truth("fouling").stopped().orElseThrow());
        List<double[]> band = new ArrayList<>();
        List<double[]> likely = new ArrayList<>();
        for (Finding finding : fleet.findings("fouling", Condition.RISING_CONDENSING_TEMPERATURE)) {
            double at = PictureFleet.day(finding.at());
            if (finding.limit().isPresent() && at < stopped) {
                Finding.LimitExpected limit = finding.limit().get();
                band.add(new double[] {at, PictureFleet.day(limit.early()), PictureFleet.day(limit.late())});
                likely.add(new double[] {at, PictureFleet.day(limit.at())});
            }
        }
        return new Plot(
                        "When the condensing limit is reached, as it was said from day to day",
                        "day on which it was said",
                        "day of the limit",
                        PictureFleet.ONSET_DAY,
                        Math.ceil(stopped) + 2,
                        20,
                        80)
                .band("a", "early to late, 80 %", band)
                .line("a", "likely", likely)
                .mark(
                        PictureFleet.day(fleet.findings("fouling", Condition.RISING_CONDENSING_TEMPERATURE)
                                .get(0)
                                .at()),
                        RAISED)
                .level(stopped, "the machine stopped itself");
    }

    private Plot causes() {
        Plot plot = new Plot("Causes of the last diagnosis", "probability, %", "", 0, 100, 0, 1);
        String[] machines = {"fouling", "leaking", "loose"};
        Condition[] conditions = {Condition.RISING_CONDENSING_TEMPERATURE, Condition.LONG_FREEZE, Condition.LONG_FREEZE
        };
        String[] words = {"dust in the condenser", "lost refrigerant", "a loose probe"};
        for (int m = 0; m < machines.length; m++) {
            List<Finding> findings = fleet.findings(machines[m], conditions[m]);
            List<Finding.ProbableCause> causes =
                    findings.get(findings.size() - 1).causes();
            for (int i = 0; i < Math.min(3, causes.size()); i++) {
                double percent = 100 * causes.get(i).probability();
                plot.bar(
                        "abc".substring(m, m + 1),
                        m * 3 + i,
                        9,
                        percent,
                        causes.get(i).cause().code() + (i == 0 ? "   (true: " + words[m] + ")" : ""));
            }
        }
        return plot;
    }
}
