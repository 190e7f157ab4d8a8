package dev.rimecast.benchmarks.year;

import dev.rimecast.alerts.AlertsInSteps;
import dev.rimecast.alerts.view.Action;
import dev.rimecast.alerts.view.AlertFilter;
import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.CaseView;
import dev.rimecast.alerts.view.NoticeView;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.telemetry.finding.Condition;
import java.time.DayOfWeek;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.ZonedDateTime;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

/**
 * One operator before the server, and a service manager behind. All of it is common practice, from no source.
 *
 * <ul>
 *   <li>Notices reach the operator on working days from seven to eighteen; the manager when the operator has acknowledged
 *       nothing for two hours, and with the digest of each morning. That is the example of the product's own file.
 *   <li>On working days at eight, twelve and sixteen the operator acknowledges all that is new, and resets what has latched:
 *       so each alert within a working day, and often later than the two hours.
 *   <li>Nothing is put aside, and no case is closed by hand.
 * </ul>
 */
final class Desk {
    /** Who is told. All of it stays in the outbox and counts as sent. */
    static final String WHOM = """
            receivers:
              operator: {outbox-only: true, zone: UTC, hours: {mon-fri: "07:00-18:00"}}
              manager: {outbox-only: true}
            routes:
              - name: service
                steps:
                  - {to: [operator]}
                  - {to: [manager], unacknowledged-for: 2h}
            digests:
              - {name: morning, to: [manager], at: "06:30", zone: UTC}
            """;

    private static final Person OPERATOR = new Person("operator");
    private static final Set<Integer> LOOKS = Set.of(8, 12, 16);
    private static final int NOON = 12;
    private static final int MOST = 5_000;
    private static final int PAGE = 500;
    private static final AlertFilter NO_CARE =
            new AlertFilter(true, Optional.empty(), Optional.empty(), conditions(), Set.of());

    private final AlertsInSteps server;
    private final Shown shown;
    private final Instant from;

    Desk(AlertsInSteps server, Instant from) {
        this.server = server;
        this.from = from;
        this.shown = new Shown(from);
    }

    private static Set<Condition> conditions() {
        Set<Condition> some = EnumSet.allOf(Condition.class);
        some.removeIf(Condition::isCare);
        return some;
    }

    /** Takes in what has come, and does what people do at that time. */
    void step(Instant at, List<SiteNews> news) {
        for (SiteNews site : news) {
            site.takeEvents(at, event -> server.events().report(event, site.site()));
        }
        server.take(at, SiteNews.take(news, at));
        server.look();
        List<AlertView> open = server.views().alerts(NO_CARE, MOST);
        shown.look(open, at);
        ZonedDateTime here = at.atZone(ZoneOffset.UTC);
        if (here.getMinute() != 0) {
            return;
        }
        if (here.getHour() == NOON) {
            shown.noon(open, at);
        }
        if (here.getDayOfWeek().getValue() <= DayOfWeek.FRIDAY.getValue() && LOOKS.contains(here.getHour())) {
            open.forEach(this::acknowledge);
        }
    }

    private void acknowledge(AlertView alert) {
        UUID id = alert.finding().id();
        AlertState state = alert.state();
        if (state.needsEyes()) {
            server.actions().acknowledge(id, alert.version(), OPERATOR.name(), "");
        }
        if (state == AlertState.LATCHED_UNACKNOWLEDGED || state == AlertState.LATCHED_ACKNOWLEDGED) {
            long version = server.views().alert(id).orElseThrow().version();
            server.actions().act(id, version, OPERATOR, new Action.Reset("looked at"));
        }
    }

    /** Everything until then. */
    void print(Instant until) {
        Duration length = Duration.between(from, until);
        List<CaseView> cases = server.views().cases(false, MOST);
        Map<UUID, CaseView> byId = new HashMap<>();
        cases.forEach(each -> byId.put(each.id(), each));
        shown.print(length);
        Sent.print(notices(), byId, from, length);
    }

    private List<NoticeView> notices() {
        List<NoticeView> all = new ArrayList<>();
        Optional<UUID> after = Optional.empty();
        List<NoticeView> page = server.notices().list(SiteScope.EVERY, after, PAGE);
        while (!page.isEmpty()) {
            all.addAll(page);
            after = Optional.of(page.get(page.size() - 1).id());
            page = server.notices().list(SiteScope.EVERY, after, PAGE);
        }
        return all;
    }
}
