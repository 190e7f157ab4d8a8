package dev.rimecast.dashboard.fake;

import dev.rimecast.dashboard.bench.Sheet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.OptionalDouble;

/** The few numbers of the policy that {@link FakeBench} has, with their words. */
final class FakeNumbers {
    private FakeNumbers() {}

    static Map<String, Double> standard() {
        Map<String, Double> numbers = new LinkedHashMap<>();
        numbers.put("limits.condensing_celsius", 65.0);
        numbers.put("limits.left_ice_pull_down_share", 0.35);
        numbers.put("delays.machine_silent_minutes", 120.0);
        numbers.put("change.clear_hours", 48.0);
        numbers.put(FakeBench.RATE, 0.1);
        numbers.put("features.pull_down.material", 0.16);
        numbers.put("features.split.material", 1.0);
        numbers.put("features.split.noise", 0.8);
        return numbers;
    }

    static double required(Map<String, Double> numbers, String path) {
        return Objects.requireNonNull(numbers.get(path));
    }

    private static double product(String path) {
        return required(standard(), path);
    }

    static Sheet.Number number(String path, double value) {
        double standard = product(path);
        return switch (path) {
            case "limits.condensing_celsius" ->
                new Sheet.Number(
                        path,
                        value,
                        standard,
                        OptionalDouble.of(30),
                        OptionalDouble.of(120),
                        "Cel",
                        "°C. Lower: high-condensing-temperature sooner, dates nearer.",
                        List.of(new Sheet.OfGroup("cube-50", 60)));
            case "limits.left_ice_pull_down_share" ->
                of(
                        path,
                        value,
                        0,
                        1,
                        "/",
                        "share of the expected pull-down (1 is all of it) below which ice is taken to have stayed on the plate. Higher: sooner, and more often wrongly.");
            case "delays.machine_silent_minutes" ->
                of(path, value, 2, 10_080, "min", "min without a reading of one machine while its gateway speaks");
            case "change.clear_hours" ->
                of(
                        path,
                        value,
                        0,
                        720,
                        "h",
                        "h since it was raised before a finding can be over without recorded work. Longer: flickers less, ends later.");
            case FakeBench.RATE ->
                of(
                        path,
                        value,
                        0.001,
                        100,
                        "",
                        "false alarms per machine and year from all changes together while nothing has changed; the limits follow from it. Lower: fewer false alarms, later findings.");
            case "features.split.material", "features.split.noise" ->
                new Sheet.Number(
                        path,
                        value,
                        standard,
                        OptionalDouble.empty(),
                        OptionalDouble.empty(),
                        "K",
                        "the least change that is worth a finding. Smaller: earlier, more often wrongly.",
                        List.of());
            default ->
                new Sheet.Number(
                        path,
                        value,
                        standard,
                        OptionalDouble.empty(),
                        OptionalDouble.empty(),
                        "/",
                        "the least change that is worth a finding. Smaller: earlier, more often wrongly.",
                        List.of());
        };
    }

    private static Sheet.Number of(String path, double value, double least, double most, String unit, String text) {
        return new Sheet.Number(
                path, value, product(path), OptionalDouble.of(least), OptionalDouble.of(most), unit, text, List.of());
    }
}
