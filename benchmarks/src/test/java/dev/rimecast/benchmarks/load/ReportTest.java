package dev.rimecast.benchmarks.load;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

class ReportTest {
    private static Measure measure(double packsPerSecond) {
        return new Measure(packsPerSecond, 10, Map.of("stream us/pack", Double.NaN));
    }

    @Test
    void json_hasMedianAndSpread_andUnderWhatItWasMeasured() {
        Report report = new Report(Map.of(Part.Name.INGEST, List.of(measure(300), measure(100), measure(200))));

        JsonNode json = JsonMapper.shared()
                .readTree(Report.json(
                        new Circumstances(List.of("--json", "C:\\figures \"new\".json")).told(), report.figures()));

        JsonNode ingest = json.get(Part.Name.INGEST.label());
        assertThat(ingest.get("packs/s").asDouble()).isEqualTo(200);
        assertThat(ingest.get("packs/s least").asDouble()).isEqualTo(100);
        assertThat(ingest.get("packs/s most").asDouble()).isEqualTo(300);
        assertThat(ingest.get("rounds").asInt()).isEqualTo(3);
        assertThat(ingest.get("stream us/pack").isNull()).isTrue();
        JsonNode run = json.get("run");
        assertThat(run.get("options").asString()).isEqualTo("--json C:\\figures \"new\".json");
        assertThat(run.get("cores").asInt()).isPositive();
        for (String told : List.of("version", "began", "ended", "system", "java")) {
            assertThat(run.get(told).asString()).as(told).isNotBlank();
        }
    }
}
