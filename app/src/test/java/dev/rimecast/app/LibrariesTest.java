package dev.rimecast.app;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.app.spine.OptionalParts;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Libraries are those that somebody chose (OWASP ASVS 5.0: 15.1.2, 15.2.4). */
class LibrariesTest {
    private static final Path ROOT = Path.of("..");
    private static final Pattern VERSION = Pattern.compile("<(?:version|[a-z0-9.-]+\\.version)>([^<]+)</");

    @TempDir
    Path directory;

    private static List<Path> poms() throws IOException {
        try (Stream<Path> files = Files.walk(ROOT, 2)) {
            return files.filter(path -> path.endsWith("pom.xml")).toList();
        }
    }

    @Test
    void versions_arePinned_andComeFromMavenCentralAlone() throws IOException {
        List<String> loose = new ArrayList<>();
        int versions = 0;
        for (Path pom : poms()) {
            String text = Files.readString(pom);
            assertThat(text).as("repositories of %s", pom).doesNotContain("<repository>", "<pluginRepository>");
            // What builds it may be newer than what is asked for; what goes into it may not.
            Matcher match = VERSION.matcher(
                    text.replace("<version>[17,)</version>", "").replace("<version>[3.8,)</version>", ""));
            while (match.find()) {
                versions++;
                String version = match.group(1);
                if (version.matches(".*(LATEST|RELEASE|[\\[(,]).*")
                        || version.endsWith("-SNAPSHOT") && !version.equals("0.1.0-SNAPSHOT")) {
                    loose.add(pom + ": " + version);
                }
            }
        }
        assertThat(loose).isEmpty();
        assertThat(versions).isGreaterThan(50);
    }

    @Test
    void billOfMaterials_isMadeByEachWholeBuild() throws IOException {
        assertThat(Files.readString(ROOT.resolve("pom.xml")))
                .contains("<artifactId>cyclonedx-maven-plugin</artifactId>", "<goal>makeAggregateBom</goal>");
    }

    /**
     * What {@code .ci/libraries} says of made-up records. Versions at their borders are ordered as Maven orders them, 4.2.0-rc1 before 4.2.0 and 4.10 behind
     * 4.9; events are those of https://ossf.github.io/osv-schema.
     */
    @ParameterizedTest
    @CsvSource({
        "4.1.9, true",
        "4.2.0-rc1, true",
        "4.2.0, false",
        "4.2, false",
        "4.3.0, false",
        "4.9.0, true",
        "4.10.0, true",
        "4.10.1, false",
        "7.0.0.Final, true",
        "7.0.1.Final, false",
    })
    void vulnerability_isFound_whereTheVersionIsInOneOfItsRanges(String version, boolean isFound) throws Exception {
        Files.writeString(directory.resolve("bill.json"), """
                {"components": [{"name": "engine", "purl": "pkg:maven/org.example/engine@%s?type=jar"}]}""".formatted(version));
        Files.createDirectories(directory.resolve("export"));
        Files.writeString(directory.resolve("export/EX-1.json"), """
                {"id": "EX-1", "modified": "2026-11-01T00:00:00Z", "summary": "an example",
                 "affected": [{"package": {"ecosystem": "Maven", "name": "org.example:engine"}, "versions": ["7.0.0.Final"],
                   "ranges": [{"type": "ECOSYSTEM", "events": [
                     {"introduced": "0"}, {"fixed": "4.2.0"}, {"introduced": "4.9"}, {"last_affected": "4.10"}]}]}]}""");
        Files.writeString(directory.resolve("export/EX-2.json"), """
                {"id": "EX-2", "withdrawn": "2026-11-02T00:00:00Z", "affected": [
                  {"package": {"ecosystem": "Maven", "name": "org.example:engine"}, "ranges": [
                    {"type": "ECOSYSTEM", "events": [{"introduced": "0"}]}]}]}""");
        Files.writeString(directory.resolve("export/EX-3.json"), """
                {"id": "EX-3", "affected": [{"package": {"ecosystem": "PyPI", "name": "org.example:engine"},
                  "ranges": [{"type": "ECOSYSTEM", "events": [{"introduced": "0"}]}]}]}""");
        OptionalParts.python();
        Process process = new ProcessBuilder(
                        "bash",
                        "../.ci/libraries",
                        directory.resolve("export").toString(),
                        directory.resolve("bill.json").toString())
                .redirectErrorStream(true)
                .start();
        String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);

        assertThat(process.waitFor()).as(said).isEqualTo(isFound ? 1 : 0);
        assertThat(said).contains("1 libraries", "3 records", (isFound ? 1 : 0) + " open");
        assertThat(said.contains("OPEN: org.example:engine " + version + ": EX-1"))
                .isEqualTo(isFound);
        assertThat(said).doesNotContain("EX-2", "EX-3");
    }
}
