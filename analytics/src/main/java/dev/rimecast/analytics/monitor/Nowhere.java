package dev.rimecast.analytics.monitor;

import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.proof.Proof;

/** Drops what is decided: for whoever wants the state alone, or how long it takes. */
public final class Nowhere implements SiteMonitor.Output {
    public static final SiteMonitor.Output OUTPUT = new Nowhere();

    private Nowhere() {}

    @Override
    public void cycle(Cycle cycle) {}

    @Override
    public void finding(Finding finding) {}

    @Override
    public void proof(Proof proof) {}
}
