package dev.rimecast.alerts.view;

import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.machine.Site;
import dev.rimecast.telemetry.proof.Proof;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/** What the pages ask. Every method is safe for many threads and reads committed data only. */
public interface Views {

    /** Every machine, by time left: urgent and soonest first, quiet machines last by name. */
    List<MachineView.FleetRow> fleet();

    List<Site> sites();

    Optional<MachineView> machine(String id);

    /**
     * Temperatures from {@code from} (inclusive) to {@code to} (exclusive).
     *
     * @param bucket a multiple of 5 minutes
     */
    List<RollupPoint> temperatures(String machine, Instant from, Instant to, Duration bucket);

    /** Evaporator and condenser step by step, oldest first, for a look at single cycles. */
    List<TracePoint> trace(String machine, Instant from, Instant to);

    /** Cycles that started from {@code from} (inclusive) to {@code to} (exclusive), oldest first. */
    List<Cycle> cycles(String machine, Instant from, Instant to);

    /** Whether work on the machine has held, the newest work first. */
    List<ProofView> proofs(String machine, int limit);

    /**
     * Work of these sites that turned out from {@code from} (inclusive) to {@code to} (exclusive) not to have held, the
     * newest verdict first.
     *
     * @param limit at most this many
     */
    List<Proof> notHeld(SiteScope sites, Instant from, Instant to, int limit);

    /** Gateways of the register, the one that was silent longest first. */
    List<GatewayView> gateways();

    /**
     * Alerts, open ones first, then the newest.
     *
     * @param sites only those of these sites
     * @param after where an earlier answer ended; empty for the beginning
     * @param limit at most this many
     */
    List<AlertView> alerts(SiteScope sites, AlertFilter filter, Optional<ListPlace> after, int limit);

    /** From the beginning. */
    default List<AlertView> alerts(AlertFilter filter, int limit) {
        return alerts(SiteScope.EVERY, filter, Optional.empty(), limit);
    }

    Optional<AlertView> alert(UUID id);

    /** The revision that raised an alert, or the earliest that is still kept. */
    Optional<Finding> raised(UUID alert);

    /**
     * Cases, open ones first, then the newest.
     *
     * @param after where an earlier answer ended; empty for the beginning
     */
    List<CaseView> cases(SiteScope sites, boolean openOnly, Optional<ListPlace> after, int limit);

    /** Of every site, from the beginning. */
    default List<CaseView> cases(boolean openOnly, int limit) {
        return cases(SiteScope.EVERY, openOnly, Optional.empty(), limit);
    }

    Optional<CaseView> caseOf(UUID id);

    /** What is held now: shelved, suppressed by design, out of service; the longest first. */
    List<Hold> holds();

    /** A hold, also one that has ended. */
    Optional<Hold> hold(UUID id);
}
