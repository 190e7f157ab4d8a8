package dev.rimecast.app;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.app.spine.OptionalParts;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Instant;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** {@code .ci/counted}: what the whole check says of its tests in the end is what they were. */
class CountedTestsTest {
    private static final Instant STARTED = Instant.parse("2026-05-04T12:00:00Z");

    @TempDir
    Path root;

    @BeforeEach
    void start() throws IOException {
        OptionalParts.python();
        Files.createDirectories(root.resolve(".ci"));
        Files.copy(Path.of("../.ci/counted"), root.resolve(".ci/counted"));
        written(Files.createFile(root.resolve("started")), STARTED);
    }

    @Test
    void reports_ofThisRun_areCounted_andThoseOfAnEarlierOneAreNot() throws Exception {
        report("a/target/surefire-reports", "Now", "", "<skipped message='no browser'/>");
        written(report("b/target/failsafe-reports", "Gone", "<failure/>", ""), STARTED.minusSeconds(1));

        assertThat(counted(0)).contains("skipped: Now.t1: no browser", "1 passed, 0 failed, 1 skipped");
    }

    @Test
    void failuresAndErrors_areCountedAndEndTheCheck() throws Exception {
        report("a/target/surefire-reports", "Fails", "<failure message='no'/>", "");
        report("b/target/failsafe-reports", "Breaks", "<error message='no'/>", "");

        assertThat(counted(1)).contains("failed: Fails.t0", "failed: Breaks.t0", "2 passed, 2 failed, 0 skipped");
    }

    @Test
    void nothing_hasRun_isNoSuccess() throws Exception {
        written(report("a/target/surefire-reports", "Old", ""), STARTED.minusSeconds(1));

        assertThat(counted(1)).contains("0 passed, 0 failed, 0 skipped");
    }

    private String counted(int ends) throws Exception {
        Process process = new ProcessBuilder(
                        "bash",
                        root.resolve(".ci/counted").toString(),
                        root.resolve("started").toString())
                .redirectErrorStream(true)
                .start();
        String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        assertThat(process.waitFor()).as(said).isEqualTo(ends);
        return said;
    }

    private Path report(String directory, String test, String... cases) throws IOException {
        StringBuilder suite = new StringBuilder("<testsuite>");
        for (int i = 0; i < cases.length; i++) {
            suite.append("<testcase classname='%s' name='t%d'>%s</testcase>".formatted(test, i, cases[i]));
        }
        Path file = Files.createDirectories(root.resolve(directory)).resolve("TEST-" + test + ".xml");
        Files.writeString(file, suite.append("</testsuite>"));
        written(file, STARTED.plusSeconds(1));
        return file;
    }

    private static void written(Path file, Instant at) throws IOException {
        Files.setLastModifiedTime(file, FileTime.from(at));
    }
}
