package dev.rimecast.alerts.inquiry;

import dev.rimecast.alerts.store.SiteLinkStore;
import dev.rimecast.alerts.store.SiteLinkStore.Row;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.CaseView;
import dev.rimecast.alerts.view.SiteCheckView;
import dev.rimecast.alerts.view.SiteCheckView.Check;
import dev.rimecast.alerts.view.SiteLinkView;
import dev.rimecast.alerts.view.SiteLinkView.Answered;
import dev.rimecast.alerts.view.SiteLinkView.Receipt;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.jdbi.v3.core.Handle;

/**
 * How a link stands.
 *
 * @param stands whether its machine is known to stand, whatever its alerts say
 * @param open alerts of its machine in its case that are not over, the most urgent first
 * @param cycles complete cycles since something was put right
 */
record LinkStanding(
        Row link,
        CaseView of,
        boolean stands,
        List<Answered> answers,
        List<AlertView> open,
        int cycles,
        Optional<Receipt> receipt) {

    static LinkStanding of(Handle handle, Row link, CaseView of, boolean stands) {
        List<Answered> answers = SiteLinkStore.answers(handle, link.id());
        List<AlertView> own = of.alerts().stream()
                .filter(alert ->
                        alert.finding().machine().filter(link.machine()::equals).isPresent())
                .toList();
        List<AlertView> open =
                own.stream().filter(alert -> alert.clearedAt().isEmpty()).toList();
        Optional<Answered> fix = answers.stream().filter(Answered::putsRight).reduce((first, last) -> last);
        int cycles = fix.map(answer -> SiteLinkStore.cyclesSince(handle, link.machine(), answer.at()))
                .orElse(0);
        Optional<Instant> overAt =
                own.stream().flatMap(alert -> alert.clearedAt().stream()).max(Instant::compareTo);
        Optional<Receipt> receipt = fix.isPresent() && open.isEmpty()
                ? overAt.filter(at -> at.isAfter(fix.get().at()))
                        .map(at -> new Receipt(
                                fix.get(),
                                at,
                                cycles,
                                SiteLinkStore.isVisitedSince(handle, link.machine(), link.madeAt())))
                : Optional.empty();
        return new LinkStanding(link, of, stands, answers, open, cycles, receipt);
    }

    /** A case that has calls only is open without any alert. */
    boolean isSettled() {
        boolean hadAlerts = of.alerts().stream()
                .anyMatch(alert ->
                        alert.finding().machine().filter(link.machine()::equals).isPresent());
        return of.closedAt().isPresent() || (hadAlerts && open.isEmpty());
    }

    Optional<Check> next() {
        return asksNoMore() ? Optional.empty() : NextCheck.of(open, answers, stands);
    }

    /**
     * What an answer is to: what is asked now, or was until the machine began or ceased to make ice, or until analytics took in
     * the answer before.
     */
    Optional<Check> answerable(String check) {
        return asksNoMore()
                ? Optional.empty()
                : Stream.of(stands, !stands)
                        .flatMap(either -> NextCheck.of(open, answers, either).stream())
                        .filter(asked -> asked.id().equals(check))
                        .findFirst()
                        .or(() -> NextCheck.shownBefore(check, answers));
    }

    private boolean asksNoMore() {
        return isSettled() || answers.size() >= SiteCheckView.MOST_CHECKS;
    }

    SiteCheckView forSite() {
        Optional<Check> next = next();
        SiteCheckView.State state = receipt.isPresent()
                ? SiteCheckView.State.OVER
                : isSettled()
                        ? SiteCheckView.State.SETTLED
                        : next.isPresent() ? SiteCheckView.State.ASKING : SiteCheckView.State.WATCHING;
        return new SiteCheckView(
                state,
                link.machine(),
                of.siteName(),
                Math.min(answers.size() + 1, SiteCheckView.MOST_CHECKS),
                next,
                answers,
                cycles,
                receipt,
                link.endsAt());
    }

    SiteLinkView forWhoAsked(Instant now) {
        SiteLinkView.State state = receipt.isPresent()
                ? SiteLinkView.State.OVER
                : link.revokedBy().isPresent()
                        ? SiteLinkView.State.REVOKED
                        : isSettled()
                                ? SiteLinkView.State.SETTLED
                                : now.isBefore(link.endsAt()) ? SiteLinkView.State.OPEN : SiteLinkView.State.ENDED;
        return new SiteLinkView(
                link.id(),
                of.id(),
                link.site(),
                link.machine(),
                link.madeBy(),
                link.madeAt(),
                link.endsAt(),
                state,
                link.revokedBy(),
                link.mailedTo(),
                answers,
                receipt);
    }
}
