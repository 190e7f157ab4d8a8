package dev.rimecast.app.faults;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.function.ToLongFunction;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.junit.jupiter.api.io.TempDir;

/**
 * Eight simulated days at ten times the demonstration's rate: what is left of the heap after a collection does not grow from the second simulated
 * hour on, nor do file handles and threads. A look takes several collections when nothing waits for analytics, and counts the least: what is kept is in
 * each of them. No look is more than a tenth above that of the second hour; of heap, handles and threads the median of each day's twelve looks is held against the first
 * day's. Every look is printed. {@code -Dsoak.hours} (two days and two hours at least, 50) and {@code -Dsoak.minutes} (of the wall, at least) make it shorter;
 * {@code -Dsoak.histograms} names a directory for the classes of each look.
 */
@EnabledIfSystemProperty(
        named = "faults",
        matches = "long",
        disabledReason = "takes an hour and a half: mvn -Pfaults,faults-long verify")
class SoakIT {
    private static final int HOURS = Integer.getInteger("soak.hours", 192);
    private static final int MINUTES = Integer.getInteger("soak.minutes", 90);
    private static final int LOOKS_A_DAY = 12;
    private static final double MAY_GROW = 1.10;
    /** Segments of Kafka come and go between two looks. */
    private static final double HANDLES_MAY_GROW = 1.05;

    private static final Pattern SAMPLE = Pattern.compile(
            SoakServer.SAMPLE + " (\\d+) simulated hours, .*heap (\\d+) KiB, (\\d+) handles, (\\d+) threads.*");

    @TempDir
    Path directory;

    private record Sample(int hour, long heap, long handles, long threads) {}

    @Test
    void eightDays_atTenTimesTheRate_leaveHeapAndHandlesWhereTheyWere() throws Exception {
        List<Sample> samples = new ArrayList<>();
        List<String> command = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(), "-Xmx512m", "-XX:+UseSerialGC"));
        String histograms = System.getProperty(SoakServer.HISTOGRAMS);
        if (histograms != null) {
            command.add("-D" + SoakServer.HISTOGRAMS + '=' + histograms);
        }
        command.addAll(List.of(
                "-cp",
                System.getProperty("java.class.path"),
                SoakServer.class.getName(),
                directory.toString(),
                Integer.toString(HOURS),
                Double.toString(MINUTES * 60.0 / HOURS)));
        Process process = new ProcessBuilder(command).redirectErrorStream(true).start();
        try (BufferedReader out =
                new BufferedReader(new InputStreamReader(process.getInputStream(), StandardCharsets.UTF_8))) {
            for (String line = out.readLine(); line != null; line = out.readLine()) {
                Matcher sample = SAMPLE.matcher(line);
                if (sample.matches()) {
                    System.out.println(line);
                    samples.add(new Sample(
                            Integer.parseInt(sample.group(1)),
                            Long.parseLong(sample.group(2)),
                            Long.parseLong(sample.group(3)),
                            Long.parseLong(sample.group(4))));
                }
            }
            assertThat(process.waitFor()).as("ends well").isZero();
        } finally {
            process.destroyForcibly();
        }
        List<Sample> later =
                samples.stream().filter(sample -> sample.hour() >= 2).toList();
        assertThat(later).as("looks").hasSizeGreaterThan(HOURS / 2 - 2);
        long second = later.get(0).heap();
        assertThat(later)
                .allSatisfy(look -> assertThat(look.heap())
                        .as("KiB of heap at hour %d, of %d at the second", look.hour(), second)
                        .isLessThanOrEqualTo(Math.round(second * MAY_GROW)));
        List<Sample> days = new ArrayList<>();
        for (int from = 0; from + LOOKS_A_DAY <= later.size(); from += LOOKS_A_DAY) {
            days.add(median(later.subList(from, from + LOOKS_A_DAY)));
        }
        assertThat(days).as("days").hasSizeGreaterThan(1);
        Sample first = days.get(0);
        assertThat(days).allSatisfy(day -> {
            assertThat(day.heap())
                    .as("KiB of heap in the day from hour %d", day.hour())
                    .isLessThanOrEqualTo(Math.round(first.heap() * MAY_GROW));
            assertThat(day.handles())
                    .as("handles in the day from hour %d", day.hour())
                    .isLessThanOrEqualTo(Math.round(first.handles() * HANDLES_MAY_GROW));
            assertThat(day.threads())
                    .as("threads in the day from hour %d", day.hour())
                    .isLessThanOrEqualTo(Math.round(first.threads() * MAY_GROW));
        });
    }

    private static Sample median(List<Sample> looks) {
        return new Sample(
                looks.get(0).hour(),
                median(looks, Sample::heap),
                median(looks, Sample::handles),
                median(looks, Sample::threads));
    }

    private static long median(List<Sample> looks, ToLongFunction<Sample> of) {
        return looks.stream()
                .mapToLong(of)
                .sorted()
                .skip(looks.size() / 2)
                .findFirst()
                .orElseThrow();
    }
}
