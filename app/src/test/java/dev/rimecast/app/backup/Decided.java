package dev.rimecast.app.backup;

import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.analytics.stream.SiteLogReader;
import dev.rimecast.app.faults.Aftermath;
import dev.rimecast.app.faults.Oracle;
import dev.rimecast.app.faults.ToyFleet;
import dev.rimecast.telemetry.cycle.CycleJson;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.log.Topics;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/** What was decided, and the state of it, of a server that has ended. */
record Decided(
        List<String> findings,
        List<String> cycles,
        Map<String, Map<String, String>> states,
        Map<String, Map<String, String>> byOneThread,
        List<String> alerts) {
    static Decided of(Path data) {
        try (Aftermath store = Aftermath.of(data)) {
            return new Decided(
                    store.findings().stream().map(Decided::line).sorted().toList(),
                    Aftermath.values(store.kafka(), Topics.CYCLES, CycleJson::decode).stream()
                            .map(Object::toString)
                            .sorted()
                            .toList(),
                    hexadecimal(store.states()),
                    hexadecimal(byOneThread(store)),
                    store.alerts().stream().map(Decided::line).sorted().toList());
        }
    }

    /** The states to which one thread comes that takes the sites' logs from their beginning and is never stopped. */
    private static Map<String, Map<String, byte[]>> byOneThread(Aftermath store) {
        Map<String, Map<String, byte[]>> states = new TreeMap<>();
        for (String site : ToyFleet.SITES) {
            states.put(site, Oracle.of(site, new SiteLogReader(store.kafka()).read(site)).states);
        }
        return states;
    }

    private static String line(Finding finding) {
        return new String(FindingJson.encode(finding), StandardCharsets.UTF_8);
    }

    private static String line(AlertView alert) {
        return alert.finding().id() + " " + alert.finding().revision() + " " + alert.state() + " " + alert.caseId();
    }

    private static Map<String, Map<String, String>> hexadecimal(Map<String, Map<String, byte[]>> states) {
        Map<String, Map<String, String>> text = new TreeMap<>();
        states.forEach((site, parts) -> {
            Map<String, String> of = text.computeIfAbsent(site, unused -> new TreeMap<>());
            parts.forEach((part, bytes) -> of.put(part, HexFormat.of().formatHex(bytes)));
        });
        return text;
    }
}
