package dev.rimecast.analytics.stream;

import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.telemetry.ack.PackGap;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.cycle.CycleJson;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.proof.Proof;
import dev.rimecast.telemetry.proof.ProofJson;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * What one record leads to, complete and as bytes before any of it leaves, so that it happens as a whole or not at
 * all. Sizes are checked here: under exactly-once a send that Kafka refuses ends the whole transaction, and the same
 * record would end the next one.
 */
final class Decisions implements SiteMonitor.Output {
    /** Well below the 1 MiB that Kafka takes by default. */
    static final int BYTES_MAX = 512 * 1024;

    private final List<byte[]> cycles = new ArrayList<>();
    private final List<byte[]> findings = new ArrayList<>();
    private final List<byte[]> proofs = new ArrayList<>();
    private final List<PackGap> gaps = new ArrayList<>();
    private final Map<String, Optional<byte[]>> states = new LinkedHashMap<>();

    @Override
    public void cycle(Cycle cycle) {
        cycles.add(checked("a cycle", CycleJson.encode(cycle)));
    }

    @Override
    public void finding(Finding finding) {
        findings.add(checked("a finding", FindingJson.encode(finding)));
    }

    @Override
    public void proof(Proof proof) {
        proofs.add(checked("a proof", ProofJson.encode(proof)));
    }

    @Override
    public void gap(PackGap gap) {
        gaps.add(gap);
    }

    void state(String part, byte @Nullable [] bytes) {
        states.put(part, bytes == null ? Optional.empty() : Optional.of(checked("the state of '" + part + "'", bytes)));
    }

    List<byte[]> cycles() {
        return cycles;
    }

    List<byte[]> findings() {
        return findings;
    }

    List<byte[]> proofs() {
        return proofs;
    }

    List<PackGap> gaps() {
        return gaps;
    }

    Map<String, Optional<byte[]>> states() {
        return states;
    }

    private static byte[] checked(String what, byte[] bytes) {
        if (bytes.length > BYTES_MAX) {
            throw new IllegalStateException(what + " has " + bytes.length + " bytes, more than " + BYTES_MAX);
        }
        return bytes;
    }
}
