package dev.rimecast.app.server;

import dev.rimecast.alerts.AlertsStage;
import dev.rimecast.alerts.people.Accounts;
import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.telemetry.machine.Site;
import java.util.List;
import java.util.stream.Stream;

/** The accounts of a demonstration: one for each role of people, and one that sees a single site. None has a password. */
final class DemoAccounts {
    private DemoAccounts() {}

    static void make(AlertsStage stage) {
        Accounts accounts = stage.people().accounts();
        Stream.of(Role.values())
                .filter(Role::isForPeople)
                .forEach(role -> accounts.demo("Demo " + role.code(), role, SiteScope.EVERY));
        stage.views().sites().stream()
                .map(Site::id)
                .findFirst()
                .ifPresent(site -> accounts.demo("Demo viewer of one site", Role.VIEWER, SiteScope.of(List.of(site))));
    }
}
