package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.proof.Proof;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/** Writes down what a monitor decides, and keeps its state as a store would. */
public class Recorded implements SiteMonitor.Output {
    public final List<Cycle> cycles = new ArrayList<>();
    public final List<Finding> findings = new ArrayList<>();
    public final List<Proof> proofs = new ArrayList<>();
    /** State of every part, as it was saved last. */
    public final Map<String, byte[]> states = new HashMap<>();

    /** Saves a part; for {@link SiteMonitor#saveTouched}. */
    public void keep(String part, byte @Nullable [] bytes) {
        if (bytes == null) {
            states.remove(part);
        } else {
            states.put(part, bytes);
        }
    }

    @Override
    public final void cycle(Cycle cycle) {
        cycles.add(cycle);
    }

    @Override
    public final void finding(Finding finding) {
        if (finding.step() == Finding.Step.RAISED) {
            assertThat(finding.grounds())
                    .as("what %s was raised by", finding.condition())
                    .isNotEmpty();
        }
        findings.add(finding);
    }

    @Override
    public final void proof(Proof proof) {
        proofs.add(proof);
    }
}
