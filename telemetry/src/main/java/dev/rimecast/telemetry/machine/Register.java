package dev.rimecast.telemetry.machine;

import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Which machines there are, behind which gateway, on which site. A gateway stands on exactly one site. */
public final class Register {
    public static final Register EMPTY = new Register(List.of(), List.of());

    private final Map<String, Machine> machines = new LinkedHashMap<>();
    private final Map<String, Site> sites = new LinkedHashMap<>();
    private final Map<String, String> siteOfGateway = new LinkedHashMap<>();

    /**
     * @param machines one row each
     * @param sites what is known of sites; a site that only machines name gets the defaults
     * @throws IllegalArgumentException if a machine is named twice or a gateway stands on two sites
     */
    public Register(Collection<Machine> machines, Collection<Site> sites) {
        for (Site site : sites) {
            this.sites.put(site.id(), site);
        }
        for (Machine machine : machines) {
            if (this.machines.put(machine.id(), machine) != null) {
                throw new IllegalArgumentException("machine " + machine.id() + " is in the register twice");
            }
            String other = siteOfGateway.putIfAbsent(machine.gateway(), machine.site());
            if (other != null && !other.equals(machine.site())) {
                throw new IllegalArgumentException("gateway " + machine.gateway() + " stands on site " + other
                        + " and on site " + machine.site() + ": a gateway stands on exactly one site");
            }
            this.sites.computeIfAbsent(machine.site(), Site::basic);
        }
    }

    public Optional<Machine> machine(String id) {
        return Optional.ofNullable(machines.get(id));
    }

    public Optional<Site> site(String id) {
        return Optional.ofNullable(sites.get(id));
    }

    public Optional<String> siteOfGateway(String gateway) {
        return Optional.ofNullable(siteOfGateway.get(gateway));
    }

    public List<Machine> machines() {
        return List.copyOf(machines.values());
    }

    public List<Machine> machinesAt(String site) {
        return machines.values().stream().filter(m -> m.site().equals(site)).toList();
    }

    public List<Site> sites() {
        return List.copyOf(sites.values());
    }
}
