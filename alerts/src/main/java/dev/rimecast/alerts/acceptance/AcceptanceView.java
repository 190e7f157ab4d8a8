package dev.rimecast.alerts.acceptance;

import dev.rimecast.telemetry.cycle.Acceptance;
import dev.rimecast.telemetry.cycle.Acceptance.Probes;
import dev.rimecast.telemetry.cycle.Acceptance.Reason;
import dev.rimecast.telemetry.cycle.Acceptance.Shown;
import dev.rimecast.telemetry.cycle.Acceptance.Verdict;
import dev.rimecast.telemetry.cycle.Feature;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * Whether a machine is accepted.
 *
 * @param site where it stood then
 * @param at end of the last cycle that it rests on
 * @param acceptance what detection says of its first cycles
 * @param kin the same beside others of its model group, as they were known then; features that enough others have
 * @param verdict of both together
 */
public record AcceptanceView(
        String site, String machine, Instant at, Acceptance acceptance, List<Kin> kin, Verdict verdict) {
    public AcceptanceView {
        kin = List.copyOf(kin);
    }

    /** @param others newest acceptances of other machines of the same model group */
    public static AcceptanceView of(
            String site, String machine, Instant at, Acceptance acceptance, List<Acceptance> others) {
        List<Kin> kin = new ArrayList<>();
        acceptance
                .shown()
                .forEach(shown -> Kin.of(shown, acceptance.isLast(), others).ifPresent(kin::add));
        return new AcceptanceView(site, machine, at, acceptance, kin, verdict(acceptance, kin));
    }

    /** Of a machine that was moved or exchanged and has made no whole cycle since. */
    public static AcceptanceView waiting(String site, String machine, Reason reason, Instant since) {
        Acceptance none = new Acceptance(
                reason,
                since,
                0,
                Verdict.NOT_YET_KNOWN,
                Probes.NOT_YET_KNOWN,
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                List.of(),
                Optional.empty(),
                List.of(),
                false,
                "Not yet known: no whole cycle has been made.");
        return new AcceptanceView(site, machine, since, none, List.of(), Verdict.NOT_YET_KNOWN);
    }

    public Optional<Kin> kinOf(Feature feature) {
        return kin.stream().filter(each -> each.feature() == feature).findFirst();
    }

    /** One against it is enough; for it, every figure must be good by the policy's kind or by the others. */
    public static Verdict both(Verdict ofKind, Optional<Kin> kin) {
        Verdict ofKin = kin.map(Kin::verdict).orElse(Verdict.NOT_YET_KNOWN);
        if (ofKind == Verdict.NOT_ACCEPTED || ofKin == Verdict.NOT_ACCEPTED) {
            return Verdict.NOT_ACCEPTED;
        }
        return ofKind == Verdict.ACCEPTED || ofKin == Verdict.ACCEPTED ? Verdict.ACCEPTED : Verdict.NOT_YET_KNOWN;
    }

    private static Verdict verdict(Acceptance acceptance, List<Kin> kin) {
        if (acceptance.verdict() == Verdict.NOT_ACCEPTED) {
            return Verdict.NOT_ACCEPTED;
        }
        List<Verdict> verdicts = acceptance.shown().stream()
                .map(shown -> both(
                        shown.verdict(),
                        kin.stream()
                                .filter(each -> each.feature() == shown.feature())
                                .findFirst()))
                .toList();
        if (verdicts.contains(Verdict.NOT_ACCEPTED)) {
            return Verdict.NOT_ACCEPTED;
        }
        boolean isMade = acceptance.shown().stream().map(Shown::feature).anyMatch(feature -> feature != Feature.SPLIT);
        boolean isRated = acceptance
                .rating()
                .filter(rating -> rating.verdict() != Verdict.ACCEPTED)
                .isEmpty();
        return isMade
                        && isRated
                        && acceptance.probes() == Probes.TOLD_APART
                        && !verdicts.contains(Verdict.NOT_YET_KNOWN)
                ? Verdict.ACCEPTED
                : Verdict.NOT_YET_KNOWN;
    }
}
