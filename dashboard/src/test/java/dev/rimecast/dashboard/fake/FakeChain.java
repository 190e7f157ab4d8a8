package dev.rimecast.dashboard.fake;

import static dev.rimecast.dashboard.fake.FakeAlerts.cause;

import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Site;
import java.time.Duration;
import java.time.InstantSource;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;

/** A chain of many sites with four machines each. */
public final class FakeChain {
    private static final int MACHINES = 4;

    private FakeChain() {}

    /**
     * Of every fiftieth site the first two machines have a dirty condenser, with more or less time left; of the seventh the third
     * has stopped, and the site runs out of ice.
     */
    public static FakeFleet of(InstantSource clock, FakeChanges changes, int sites) {
        List<Site> places = new ArrayList<>();
        List<Machine> machines = new ArrayList<>();
        for (int site = 1; site <= sites; site++) {
            places.add(place(site));
            for (int i = 0; i < MACHINES; i++) {
                machines.add(Machine.basic(name(site, i), "site-" + site, "gw-" + site));
            }
        }
        FakeFleet fleet = new FakeFleet(clock, changes, places, machines);
        FakeAlerts make = new FakeAlerts(clock.instant());
        for (int site = 50; site <= sites; site += 50) {
            fleet.put(condenser(make, site, 0));
            fleet.put(condenser(make, site, 1));
        }
        if (sites >= 7) {
            fleet.put(stopped(make, 7, 2));
        }
        return fleet;
    }

    private static Site place(int site) {
        return new Site(
                "site-" + site,
                placeName(site),
                ZoneId.of("Europe/Oslo"),
                Optional.empty(),
                Optional.empty(),
                Set.of(),
                Optional.empty(),
                Optional.empty(),
                OptionalDouble.empty(),
                OptionalDouble.empty());
    }

    private static AlertView condenser(FakeAlerts make, int site, int machine) {
        return make.alert(
                name(site, machine),
                "site-" + site,
                placeName(site),
                Condition.RISING_CONDENSING_TEMPERATURE,
                Stage.EARLY,
                Priority.MEDIUM,
                make.ago(75),
                List.of(cause(Cause.AIRFLOW_RESTRICTED, 0.78, List.of(), List.of())),
                Optional.empty(),
                Optional.of(Duration.ofHours(site / 5 + 10L * machine)),
                "Condenser stands 22.8 K above the room, 14.4 K expected.");
    }

    private static AlertView stopped(FakeAlerts make, int site, int machine) {
        return make.alert(
                name(site, machine),
                "site-" + site,
                placeName(site),
                Condition.STOPPED_BY_PROTECTION,
                Stage.STOPPED,
                Priority.URGENT,
                make.ago(2),
                List.of(cause(Cause.FAN_FAILED, 0.91, List.of(), List.of())),
                Optional.empty(),
                Optional.empty(),
                "Stopped at 67.2 °C condensing temperature, limit 65 °C.");
    }

    private static String placeName(int site) {
        return String.format(Locale.ROOT, "Branch %04d", site);
    }

    private static String name(int site, int machine) {
        return String.format(Locale.ROOT, "ice-%04d-%d", site, machine + 1);
    }
}
