package dev.rimecast.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** Libraries are those that somebody chose (OWASP ASVS 5.0: 15.1.2, 15.2.4). */
class LibrariesTest {
    private static final Path ROOT = Path.of("..");
    private static final Pattern VERSION = Pattern.compile("<(?:version|[a-z0-9.-]+\\.version)>([^<]+)</");

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
}
