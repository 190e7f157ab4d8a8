package dev.rimecast.app.operate;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Set;
import org.junit.jupiter.api.Test;

/** The rules for whoever runs the product; {@code .ci/check-rules} has Prometheus's own tool look at them, too. */
class AlertRulesTest {
    @Test
    void everyAlert_hasATestThatItFires_andOneThatItDoesNot() throws IOException {
        Set<String> alerts = PrometheusFiles.rules("alert").keySet();

        assertThat(alerts).hasSizeGreaterThan(20);
        assertThat(PrometheusFiles.tested().keySet()).containsExactlyInAnyOrderElementsOf(alerts);
        assertThat(PrometheusFiles.tested())
                .allSatisfy((alert, outcomes) -> assertThat(outcomes).as(alert).containsExactlyInAnyOrder(true, false));
    }

    @Test
    void everyAlert_isInTheGuideForWhoRunsIt() throws IOException {
        String guide = Files.readString(Path.of("../docs/operations.md"));

        assertThat(PrometheusFiles.rules("alert").keySet())
                .allSatisfy(alert -> assertThat(guide).contains('`' + alert + '`'));
        assertThat(PrometheusFiles.rules("record").keySet())
                .allSatisfy(record -> assertThat(guide).contains('`' + record + '`'));
    }
}
