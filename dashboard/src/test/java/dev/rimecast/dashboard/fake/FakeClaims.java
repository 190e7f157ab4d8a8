package dev.rimecast.dashboard.fake;

import dev.rimecast.alerts.people.Answer;
import dev.rimecast.alerts.register.MachineClaims;
import dev.rimecast.alerts.view.Views;
import dev.rimecast.telemetry.machine.Machine;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/** Claims in memory; none at first. What is claimed is in no list of the fleet. */
public final class FakeClaims implements MachineClaims {
    private final Views fleet;
    private final InstantSource clock;
    private final List<Claim> claims = new ArrayList<>();

    FakeClaims(Views fleet, InstantSource clock) {
        this.fleet = fleet;
        this.clock = clock;
    }

    @Override
    public synchronized List<Claim> list() {
        return claims.stream()
                .sorted(Comparator.comparing(claim -> claim.machine().id()))
                .toList();
    }

    @Override
    public List<String> modelGroups() {
        return List.of("cube-50", "flake-80");
    }

    synchronized boolean has(String machine) {
        return claims.stream().anyMatch(claim -> claim.machine().id().equals(machine));
    }

    @Override
    public synchronized Answer<Claim> claim(String by, Machine machine, boolean isNewSite) {
        Optional<Claim> before = claims.stream()
                .filter(claim -> claim.machine().id().equals(machine.id()))
                .findFirst();
        if (before.isPresent()) {
            return new Answer.Refused<>(machine.id() + " is in the register already: claimed by "
                    + before.get().by());
        }
        if (!isNewSite && fleet.sites().stream().noneMatch(site -> site.id().equals(machine.site()))) {
            return new Answer.Refused<>("there is no site " + machine.site()
                    + " in the register: name one that is there, or say that it is a new one");
        }
        Claim claim = new Claim(machine, clock.instant(), by);
        claims.add(claim);
        return new Answer.Done<>(claim);
    }

    @Override
    public synchronized Answer<Machine> release(String by, String machine) {
        Optional<Claim> claim = claims.stream()
                .filter(each -> each.machine().id().equals(machine))
                .findFirst();
        claim.ifPresent(claims::remove);
        return claim.<Answer<Machine>>map(known -> new Answer.Done<>(known.machine()))
                .orElseGet(Answer.NotFound::new);
    }
}
