package dev.rimecast.app.bench;

import dev.rimecast.dashboard.bench.Look;
import dev.rimecast.history.fleet.FleetLook;
import dev.rimecast.history.fleet.FleetReport;
import dev.rimecast.history.fleet.Scope;
import dev.rimecast.history.query.History;
import java.time.Duration;
import java.util.List;
import java.util.Locale;

/** Looks at the fleet itself for the page. */
final class FleetWork {
    /** Lines of one list; the rest is counted. */
    private static final int MOST = 200;
    /** Names of machines that were left out for one reason. */
    private static final int SOME = 20;

    private FleetWork() {}

    static Look look(Look asked, History past, Pace pace) {
        return asked.with(found(
                FleetLook.at(past.duck(), Duration.ofDays(asked.days()), Duration.ofDays(asked.fitDays()), pace)));
    }

    static Look.Found found(FleetReport report) {
        return new Look.Found(
                report.from(),
                report.fitFrom(),
                report.until(),
                report.machines(),
                report.judged(),
                report.off(),
                report.unexplained(),
                report.fits().stream()
                        .map(fit -> new Look.Fit(fit.feature().code(), fit.machines(), fit.cycles(), fit.withinTwo()))
                        .toList(),
                report.unfit().size(),
                some(report.unfit(), MOST).stream()
                        .map(each -> new Look.Unfit(
                                each.machine(),
                                each.site(),
                                each.feature().code(),
                                each.median(),
                                each.cycles(),
                                each.alerts()))
                        .toList(),
                report.sensors().size(),
                some(report.sensors(), MOST).stream()
                        .map(each -> new Look.Sensor(
                                each.machine(),
                                each.site(),
                                each.channel(),
                                each.change().name().toLowerCase(Locale.ROOT).replace('_', '-'),
                                each.amount(),
                                each.low(),
                                each.high()))
                        .toList(),
                report.groups().stream()
                        .map(each -> new Look.Group(
                                each.modelGroup(),
                                each.feature().code(),
                                each.machines(),
                                each.median(),
                                each.others()))
                        .toList(),
                report.scopes().stream().map(FleetWork::part).toList());
    }

    private static Look.Part part(Scope scope) {
        return new Look.Part(
                scope.part().code(),
                scope.looked(),
                scope.leftOut().stream()
                        .map(each -> new Look.LeftOut(
                                each.reason().code(), each.machines().size(), some(each.machines(), SOME)))
                        .toList());
    }

    private static <T> List<T> some(List<T> all, int most) {
        return all.subList(0, Math.min(most, all.size()));
    }
}
