package dev.rimecast.dashboard.fake;

import dev.rimecast.alerts.acceptance.AcceptanceView;
import dev.rimecast.telemetry.cycle.Acceptance;
import dev.rimecast.telemetry.cycle.Acceptance.Probes;
import dev.rimecast.telemetry.cycle.Acceptance.Rating;
import dev.rimecast.telemetry.cycle.Acceptance.Reason;
import dev.rimecast.telemetry.cycle.Acceptance.Shown;
import dev.rimecast.telemetry.cycle.Acceptance.Verdict;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.cycle.RatedYield;
import dev.rimecast.telemetry.machine.Machine;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** First cycles of machines: every second one has a split that is too large. */
final class FakeAcceptances {
    private FakeAcceptances() {}

    static List<AcceptanceView> of(Machine machine, Instant now) {
        Instant at = now.minus(Duration.ofDays(40));
        boolean isWarm = machine.id().hashCode() % 2 == 0;
        List<Acceptance> others = List.of(said(at, 15.2), said(at, 14.1), said(at, 16.3), said(at, 15.0));
        return List.of(AcceptanceView.of(machine.site(), machine.id(), at, said(at, isWarm ? 26 : 15.4), others));
    }

    private static Acceptance said(Instant at, double split) {
        double allowed = RatedYield.kgPerDay(50, 24, 17);
        return new Acceptance(
                Reason.MOVED,
                at.minus(Duration.ofHours(6)),
                12,
                Verdict.NOT_YET_KNOWN,
                Probes.TOLD_APART,
                OptionalDouble.of(24),
                OptionalDouble.of(17),
                List.of(
                        new Shown(Feature.PULL_DOWN, 179, 191, 69, 532, 10, Verdict.NOT_YET_KNOWN),
                        new Shown(Feature.FREEZE, 1290, 1254, 563, 2793, 10, Verdict.NOT_YET_KNOWN),
                        new Shown(Feature.HARVEST, 209, 203, 75, 553, 10, Verdict.NOT_YET_KNOWN),
                        new Shown(Feature.SPLIT, split, 15, 7, 23, 11, Verdict.NOT_YET_KNOWN)),
                Optional.of(new Rating(50, allowed, allowed * 0.98, Verdict.ACCEPTED)),
                List.of(),
                true,
                "");
    }
}
