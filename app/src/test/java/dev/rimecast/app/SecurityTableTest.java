package dev.rimecast.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** The tables of {@code docs/security.md}: each row with a column of tests names at least one, and each that is named is there. */
class SecurityTableTest {
    private static final Path ROOT = Path.of("..");
    private static final Pattern NAME = Pattern.compile("`([A-Z][A-Za-z0-9]*(?:Test|IT))`");

    private static Set<String> tests() throws IOException {
        try (Stream<Path> files = Files.walk(ROOT, 14)) {
            return files.map(Path::toString)
                    .filter(path -> path.contains("/src/test/java/") && path.matches(".*(Test|IT)\\.java"))
                    .map(path -> path.replaceAll(".*/|\\.java$", ""))
                    .collect(Collectors.toSet());
        }
    }

    @Test
    void everyRow_namesTestsThatAreThere() throws IOException {
        Set<String> there = tests();
        List<String> wrong = new ArrayList<>();
        int rows = 0;
        boolean inTests = false;
        for (String line : Files.readAllLines(ROOT.resolve("docs/security.md"))) {
            if (!line.startsWith("|")) {
                inTests = false;
            } else if (line.strip().endsWith("| test |")) {
                inTests = true;
            } else if (inTests && !line.startsWith("|---")) {
                rows++;
                List<String> cells = List.of(line.strip().split("(?<!\\\\)\\|"));
                Matcher named = NAME.matcher(cells.get(cells.size() - 1));
                int count = 0;
                while (named.find()) {
                    count++;
                    if (!there.contains(named.group(1))) {
                        wrong.add(named.group(1) + " is not there: " + line);
                    }
                }
                if (count == 0) {
                    wrong.add("no test: " + line);
                }
            }
        }
        assertThat(wrong).isEmpty();
        assertThat(rows).isGreaterThan(60);
    }
}
