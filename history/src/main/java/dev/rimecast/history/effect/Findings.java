package dev.rimecast.history.effect;

import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.proof.Proof;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CancellationException;
import java.util.function.BooleanSupplier;

/** What other numbers raise, as long as somebody wants to know. */
final class Findings implements SiteMonitor.Output {
    final List<Finding> all = new ArrayList<>();
    private final BooleanSupplier isWanted;

    Findings(BooleanSupplier isWanted) {
        this.isWanted = isWanted;
    }

    @Override
    public void cycle(Cycle cycle) {
        if (!isWanted.getAsBoolean()) {
            throw new CancellationException();
        }
    }

    @Override
    public void finding(Finding finding) {
        all.add(finding);
    }

    @Override
    public void proof(Proof proof) {
        // Of work that was done, whatever the thresholds.
    }
}
