package dev.rimecast.app;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.policy.PolicyGuide;
import dev.rimecast.dashboard.DashboardStage;
import dev.rimecast.telemetry.finding.Condition;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Objects;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;

/** What detection names as the reason of a finding, the pages have in plain words: the two are different modules. */
class GroundsInWordsTest {
    private static final Pattern ENTRY = Pattern.compile("^ {4}'([a-z]+\\.[a-z_]+)': ", Pattern.MULTILINE);
    private static final List<String> OF_POLICY = List.of("limits", "delays", "sensors", "making", "care", "change");

    @Test
    void everyNumberThatHasWords_isOneOfThePolicy() throws IOException {
        PolicyGuide guide = PolicyGuide.standard();
        List<String> entries =
                ENTRY.matcher(script()).results().map(found -> found.group(1)).toList();

        assertThat(entries).hasSizeGreaterThan(40);
        assertThat(entries)
                .filteredOn(entry -> OF_POLICY.contains(entry.substring(0, entry.indexOf('.'))))
                .allSatisfy(entry -> assertThat(guide.of(entry)).as(entry).isPresent());
    }

    @Test
    void everyCondition_hasASentenceThatSaysWhenItGoesOff() throws IOException {
        String script = script();
        for (Condition condition : Condition.values()) {
            assertThat(script).contains("    '" + condition.code() + "': '");
        }
    }

    private static String script() throws IOException {
        try (InputStream in = Objects.requireNonNull(DashboardStage.class.getResourceAsStream("web/texts/why.js"))) {
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        }
    }
}
