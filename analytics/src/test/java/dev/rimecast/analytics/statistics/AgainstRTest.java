package dev.rimecast.analytics.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.fail;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.Test;

/**
 * The same by R (Debian packages {@code r-base-core} and {@code r-cran-spc}; first run with R 4.2.2 and spc 0.6.7), by the
 * scripts in {@code src/test/reference}. Skipped with its reason where R is not installed; with
 * {@code RIMECAST_REQUIRE_R=true} that is a failure.
 */
class AgainstRTest {
    private static final String REQUIRED = "RIMECAST_REQUIRE_R";

    /** Lines of what a script prints, split at spaces; the first names the versions, and is printed on. */
    private static List<String[]> run(String script) throws IOException, InterruptedException {
        Process process;
        try {
            process = new ProcessBuilder(
                            "Rscript",
                            "--vanilla",
                            Path.of("src/test/reference", script).toString())
                    .redirectError(ProcessBuilder.Redirect.DISCARD)
                    .start();
        } catch (IOException e) {
            throw missing("Rscript is not on the PATH");
        }
        String text = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        if (!process.waitFor(60, TimeUnit.SECONDS) || process.exitValue() != 0) {
            throw missing(script + " did not run to its end: a package that it loads is missing");
        }
        List<String> lines = text.lines().toList();
        System.out.println(script + ": " + lines.get(0));
        return lines.stream().skip(1).map(line -> line.trim().split(" +")).toList();
    }

    private static RuntimeException missing(String reason) {
        if ("true".equals(System.getenv(REQUIRED))) {
            return fail(reason + ", and " + REQUIRED + " is true");
        }
        System.out.println("Skipped: " + reason);
        return Assumptions.abort(reason);
    }

    @Test
    void runLengths_ofCharts_areThoseOfSpc() throws Exception {
        List<String[]> lines = run("run-lengths.R");

        assertThat(lines).hasSizeGreaterThan(100);
        for (String[] line : lines) {
            double a = Double.parseDouble(line[1]);
            double b = Double.parseDouble(line[2]);
            double shift = Double.parseDouble(line[3]);
            double expected = Double.parseDouble(line[4]);
            double ours = switch (line[0]) {
                case "cusum-one-sided" -> CusumDesign.averageRunLength(a, b, shift);
                case "cusum-two-sided" ->
                    1
                            / (1 / CusumDesign.averageRunLength(a, b, shift)
                                    + 1 / CusumDesign.averageRunLength(a, b, -shift));
                case "cusum-limit" -> CusumDesign.limitFor(a, b);
                case "ewma" -> EwmaDesign.averageRunLength(a, b, shift);
                case "ewma-limit" -> EwmaDesign.limitFor(a, b);
                default -> throw new AssertionError(line[0]);
            };

            assertThat(ours).as("%s", Arrays.toString(line)).isCloseTo(expected, within(2e-5 * expected));
        }
    }

    @Test
    void trends_ofSeries_areThoseOfR() throws Exception {
        Map<String, double[]> values = new HashMap<>();
        for (String[] line : run("trends.R")) {
            values.put(
                    line[0],
                    Arrays.stream(line).skip(1).mapToDouble(Double::parseDouble).toArray());
        }

        for (String series : List.of("epa", "nile", "nhtemp", "lake-huron")) {
            double[] y = of(values, series + "-data");
            double[] x = new double[y.length];
            Arrays.setAll(x, i -> i);
            MannKendall test = MannKendall.of(y, y.length);
            double p = of(values, series + "-p")[0];

            assertThat(test.z()).as(series).isCloseTo(of(values, series + "-z")[0], within(1e-10));
            assertThat(test.twoSidedProbability()).as(series).isCloseTo(p, within(1e-9 * p + 1e-14));
            assertThat(TheilSen.of(x, y, y.length, 0.8).slope())
                    .as(series)
                    .isCloseTo(of(values, series + "-slope")[0], within(1e-9));
        }
    }

    private static double[] of(Map<String, double[]> values, String name) {
        return Objects.requireNonNull(values.get(name), name);
    }
}
