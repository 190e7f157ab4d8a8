package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** The scripts of the pages, read as text (OWASP ASVS 5.0: 1.2.1, 1.3.2, 3.2.2, 3.5.5, 6.2.6, 6.2.7, 14.3.3). */
class ClientCodeTest {
    private static final Path WEB = Path.of("src/main/resources/dev/rimecast/dashboard/web");

    /** Ways to make code or markup of text, or to be spoken to by another page. */
    private static final Pattern FORBIDDEN = Pattern.compile(
            "\\beval\\s*\\(|new Function\\b|\\.innerHTML\\b|\\.outerHTML\\b"
                    + "|insertAdjacentHTML|document\\.write|unsafeHTML|unsafeSVG|javascript:|postMessage|addEventListener\\(\\s*'message'"
                    + "|document\\.cookie|\\bimport\\(\\s*[^'\"`)]|__proto__|setTimeout\\(\\s*['\"`]|onpaste|<object|<embed");

    private static final Pattern STORED = Pattern.compile("(?:localStorage|sessionStorage)\\.setItem\\(\\s*([^,]+),");
    private static final Pattern INPUT = Pattern.compile("<input\\b[^>]*>");

    private static Map<String, String> scripts() throws IOException {
        Map<String, String> scripts = new TreeMap<>();
        try (Stream<Path> files = Files.walk(WEB)) {
            for (Path file :
                    files.filter(path -> path.toString().endsWith(".js")).toList()) {
                scripts.put(String.valueOf(file.getFileName()), Files.readString(file));
            }
        }
        assertThat(scripts).hasSizeGreaterThan(20).containsKeys("sign-in.js", "api.js");
        return scripts;
    }

    @Test
    void scripts_makeNoCodeOrMarkupOfText() throws IOException {
        List<String> found = new ArrayList<>();
        scripts().forEach((name, text) -> {
            for (Matcher match = FORBIDDEN.matcher(text); match.find(); ) {
                found.add(name + ": " + match.group());
            }
        });
        assertThat(found).isEmpty();
    }

    @Test
    void passwordFields_hideWhatIsTyped_andLetPasswordManagersHelp() throws IOException {
        int fields = 0;
        for (Map.Entry<String, String> script : scripts().entrySet()) {
            for (Matcher match = INPUT.matcher(script.getValue()); match.find(); ) {
                String field = match.group();
                if (field.matches("(?s).*name=\"(password|current|next)\".*") || field.contains("-password\"")) {
                    fields++;
                    assertThat(field)
                            .as(script.getKey())
                            .contains("type=\"password\"")
                            .containsPattern("autocomplete=\"(current|new)-password\"");
                }
            }
        }
        assertThat(fields).isGreaterThanOrEqualTo(3);
    }

    /** What is kept in a browser: how numbers are shown, work that was written down and not sent yet, and that a demonstration was joined again. */
    @Test
    void storageOfTheBrowser_hasUnitsAndDrafts_andNothingElse() throws IOException {
        Map<String, List<String>> stored = new TreeMap<>();
        scripts().forEach((name, text) -> {
            for (Matcher match = STORED.matcher(text); match.find(); ) {
                stored.computeIfAbsent(name, any -> new ArrayList<>()).add(match.group(1));
            }
        });
        assertThat(stored).containsOnlyKeys("http.js", "units.js", "work-outbox.js");
    }
}
