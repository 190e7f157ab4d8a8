package dev.rimecast.app;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.diagnosis.Evidence;
import dev.rimecast.dashboard.DashboardStage;
import dev.rimecast.telemetry.cycle.Feature;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Objects;
import java.util.regex.Pattern;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** The pages put a sentence of evidence beside the plot of its quantity by how the sentence begins. */
class EvidenceBesidePlotsTest {
    private static final Pattern BEGINNING = Pattern.compile("\\['([^']+)', '[a-z-]+'\\]");

    @ParameterizedTest
    @EnumSource(
            names = {"FILL", "WATER_USE", "ICE_MADE"},
            mode = EnumSource.Mode.EXCLUDE)
    void sentence_aboutAQuantityThatIsPlotted_beginsAsThePagesExpect(Feature feature) throws IOException {
        List<String> beginnings = beginnings();

        for (double residual : new double[] {-0.5, 0, 0.5}) {
            assertThat(Evidence.sentence(feature, residual))
                    .matches(s -> beginnings.stream().anyMatch(s::startsWith));
        }
    }

    private static List<String> beginnings() throws IOException {
        try (InputStream in =
                Objects.requireNonNull(DashboardStage.class.getResourceAsStream("web/evidence-plots.js"))) {
            String script = new String(in.readAllBytes(), StandardCharsets.UTF_8);
            return BEGINNING
                    .matcher(script)
                    .results()
                    .map(found -> found.group(1))
                    .toList();
        }
    }
}
