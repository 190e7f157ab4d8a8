package dev.rimecast.alerts.register;

import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.machine.Site;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;

/**
 * What has to change so that one register becomes another.
 *
 * @param newSites not known before
 * @param changedSites new ones and those of which something else is said now
 * @param goneSites no longer in the register
 * @param left machines that are gone, or stand on another site now, as they were
 * @param put machines that are new, moved or changed, as they are now
 */
record RegisterDifference(
        List<Site> newSites, List<Site> changedSites, List<Site> goneSites, List<Machine> left, List<Machine> put) {

    static RegisterDifference between(Register before, Register after) {
        List<Site> newSites = after.sites().stream()
                .filter(site -> before.site(site.id()).isEmpty())
                .toList();
        List<Site> changedSites = after.sites().stream()
                .filter(site -> !before.site(site.id()).equals(Optional.of(site)))
                .toList();
        List<Site> goneSites = before.sites().stream()
                .filter(site -> after.site(site.id()).isEmpty())
                .toList();
        Map<String, Machine> now = after.machines().stream().collect(Collectors.toMap(Machine::id, machine -> machine));
        List<Machine> left = before.machines().stream()
                .filter(machine -> {
                    Machine same = now.get(machine.id());
                    return same == null || !same.site().equals(machine.site());
                })
                .toList();
        Map<String, Machine> known = new HashMap<>();
        before.machines().forEach(machine -> known.put(machine.id(), machine));
        List<Machine> put = new ArrayList<>(after.machines());
        put.removeIf(machine -> machine.equals(known.get(machine.id())));
        return new RegisterDifference(newSites, changedSites, goneSites, left, List.copyOf(put));
    }

    boolean isEmpty() {
        return changedSites.isEmpty() && goneSites.isEmpty() && left.isEmpty() && put.isEmpty();
    }
}
