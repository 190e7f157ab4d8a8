package dev.rimecast.alerts.register;

import dev.rimecast.alerts.policy.PolicyChange;
import dev.rimecast.alerts.store.ClaimStore;
import dev.rimecast.alerts.store.Database;
import dev.rimecast.alerts.store.Outbox;
import dev.rimecast.alerts.store.PolicyLedger;
import dev.rimecast.alerts.store.RegisterStore;
import dev.rimecast.alerts.store.RegisterStore.PolicyVersion;
import dev.rimecast.alerts.store.SiteEventStore;
import dev.rimecast.alerts.store.SiteLocks;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import dev.rimecast.telemetry.log.SiteRecord.PolicyActivated;
import dev.rimecast.telemetry.log.SiteRecord.Registered;
import dev.rimecast.telemetry.log.SiteRecord.SiteChanged;
import dev.rimecast.telemetry.log.SiteRecord.Unregistered;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.machine.Site;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import org.jdbi.v3.core.Handle;

/**
 * Brings the register and the policy in: what differs from the database is written there and, in the same
 * transaction, put on its way into the sites' logs and the compacted topics. The same import again does nothing.
 *
 * <p>Each site's log is complete in itself and in a readable order: the policy, the site, its machines. A site that is
 * new gets the policy that is in force, also when that did not change. A machine that moves ends in the old site's log
 * and begins in the new one's, and both say that it was moved. What was done to it follows it, since that is the machine's.
 */
public final class RegisterImport {
    private final Database database;
    private final InstantSource clock;
    private final Runnable wakePublisher;

    public RegisterImport(Database database, InstantSource clock, Runnable wakePublisher) {
        this.database = database;
        this.clock = clock;
        this.wakePublisher = wakePublisher;
    }

    /**
     * What an import changed.
     *
     * @param machines new, changed, moved and removed ones together
     */
    public record Result(int machines, int sites, boolean policyActivated) {}

    /**
     * Makes register and policy those in force, the policy as one from a file.
     *
     * @param policyVersion name of the policy; a text belongs to its name for ever
     * @param policyYaml the policy's whole text
     * @throws IllegalArgumentException if the name has another text already
     */
    public Result apply(Register register, String policyVersion, String policyYaml) {
        return apply(register, new Brought(policyVersion, policyYaml, true));
    }

    /**
     * The policy that a start brings along.
     *
     * @param version its name; a text belongs to its name for ever
     * @param yaml its whole text
     * @param isFile whether somebody wrote it, or it is the product's own
     */
    public record Brought(String version, String yaml, boolean isFile) {}

    /**
     * Makes the register the one in force, and the policy where it is news: what people have put into force since the last
     * start stays. A file that has changed goes before it, since somebody has just written it; another policy of the product
     * does not.
     *
     * @throws IllegalArgumentException if the policy's name has another text already
     */
    public Result apply(Register register, Brought policy) {
        return apply(policy, (handle, stored, at) -> withClaims(handle, register, stored, at));
    }

    /** The policy that a start brings along, where it brings no register: what is known of machines stays as it is. */
    public Result apply(Brought policy) {
        return apply(policy, (handle, stored, at) -> stored);
    }

    /** What the register is to be, from what it is. */
    private interface Next {
        Register of(Handle handle, Register stored, Instant at);
    }

    private Result apply(Brought policy, Next next) {
        Result result = database.jdbi().inTransaction(handle -> {
            RegisterStore.lock(handle);
            Instant at = clock.instant();
            Register stored = stored(handle);
            Register register = next.of(handle, stored, at);
            return replace(handle, stored, register, activate(handle, policy, at), at);
        });
        wakePublisher.run();
        return result;
    }

    /**
     * The register of a file, with the machines that were claimed and that it does not name. Such a machine stands where its gateway
     * stands: if the file has the gateway on another site, it is there, too. One that the file names is a claim no longer.
     */
    private static Register withClaims(Handle handle, Register file, Register stored, Instant at) {
        List<Machine> machines = new ArrayList<>(file.machines());
        List<Site> sites = new ArrayList<>(file.sites());
        for (String id : ClaimStore.all(handle).keySet()) {
            Optional<Machine> named = file.machine(id);
            Optional<Machine> claimed = stored.machine(id);
            if (named.isPresent()) {
                ClaimStore.follow(handle, named.get(), at);
            } else if (claimed.isPresent()) {
                String gateway = claimed.get().gateway();
                String site = file.siteOfGateway(gateway).orElse(claimed.get().site());
                machines.add(claimed.get().onSite(site));
                stored.site(site)
                        .filter(known -> file.site(site).isEmpty() && !sites.contains(known))
                        .ifPresent(sites::add);
            }
        }
        return new Register(machines, sites);
    }

    /** The register as it is in the database. */
    public Register current() {
        return database.jdbi().inTransaction(RegisterImport::stored);
    }

    static Register stored(Handle handle) {
        return new Register(RegisterStore.machines(handle), RegisterStore.sites(handle));
    }

    /**
     * Makes one register the other. The caller has the lock.
     *
     * @param activated whether every site is to be told the policy in force, and not only new ones
     */
    static Result replace(Handle handle, Register before, Register register, boolean activated, Instant at) {
        RegisterDifference difference = RegisterDifference.between(before, register);
        List<Site> toldThePolicy = activated ? register.sites() : difference.newSites();
        PolicyVersion inForce = RegisterStore.policy(handle).orElseThrow();
        SiteRecord policyRecord = new PolicyActivated(at, inForce.version(), inForce.yaml());
        toldThePolicy.forEach(site -> Outbox.toSite(handle, site.id(), policyRecord));
        difference.changedSites().forEach(site -> put(handle, site, at));
        List<Machine> moved = difference.left().stream()
                .filter(machine -> register.machine(machine.id()).isPresent())
                .toList();
        SiteLocks.take(handle, touched(moved, register));
        moved.forEach(machine -> moved(handle, machine.id(), machine.site(), "to another site", at));
        difference.left().forEach(machine -> leave(handle, machine, register, at));
        difference.put().forEach(machine -> put(handle, machine, at));
        moved.forEach(machine -> moved(handle, machine.id(), newSite(machine, register), "from another site", at));
        difference.goneSites().forEach(site -> remove(handle, site));
        long removed = difference.left().stream()
                .filter(machine -> register.machine(machine.id()).isEmpty())
                .count();
        return new Result(
                difference.put().size() + (int) removed,
                difference.changedSites().size() + difference.goneSites().size(),
                activated);
    }

    private static boolean activate(Handle handle, Brought policy, Instant at) {
        Optional<PolicyChange> newest = PolicyLedger.newest(handle);
        Optional<PolicyChange> before = PolicyLedger.newestBroughtIn(handle);
        boolean isNews = before.filter(last ->
                        last.version().equals(policy.version()) && last.yaml().equals(policy.yaml()))
                .isEmpty();
        boolean isFollowed = newest.map(PolicyChange::yaml).equals(before.map(PolicyChange::yaml));
        if (!isNews || !(policy.isFile() || isFollowed)) {
            return false;
        }
        Activation.of(
                handle,
                new PolicyChange(
                        Activation.next(handle),
                        policy.version(),
                        policy.yaml(),
                        policy.isFile() ? PolicyChange.Source.FILE : PolicyChange.Source.PRODUCT,
                        at,
                        "start of the server",
                        policy.isFile()
                                ? "the file of the policy is new or was changed"
                                : "the policy that comes with the product",
                        Optional.empty(),
                        Optional.empty()));
        return true;
    }

    private static void put(Handle handle, Site site, Instant at) {
        RegisterStore.put(handle, site, at);
        SiteRecord content = new SiteChanged(at, site);
        Outbox.toSite(handle, site.id(), content);
        Outbox.toCompacted(handle, Topics.REGISTRY, "site/" + site.id(), Optional.of(content));
    }

    private static void put(Handle handle, Machine machine, Instant at) {
        RegisterStore.put(handle, machine, at);
        SiteRecord content = new Registered(at, machine);
        Outbox.toSite(handle, machine.site(), content);
        Outbox.toCompacted(handle, Topics.REGISTRY, "machine/" + machine.id(), Optional.of(content));
    }

    private static String newSite(Machine moved, Register register) {
        return register.machine(moved.id()).orElseThrow().site();
    }

    private static Set<String> touched(List<Machine> moved, Register register) {
        Set<String> sites = new TreeSet<>();
        moved.forEach(machine -> {
            sites.add(machine.site());
            sites.add(newSite(machine, register));
        });
        return sites;
    }

    /** Which site the other is each event says of itself: to whoever may see that site. */
    private static void moved(Handle handle, String machine, String site, String detail, Instant at) {
        Happened event = new Happened(at, Optional.of(machine), EventKind.MOVED, detail, "the register", "");
        SiteEventStore.add(handle, site, event);
        Outbox.toSite(handle, site, event);
    }

    private static void leave(Handle handle, Machine machine, Register register, Instant at) {
        Outbox.toSite(handle, machine.site(), new Unregistered(at, machine.id()));
        if (register.machine(machine.id()).isEmpty()) {
            RegisterStore.removeMachine(handle, machine.id());
            Outbox.toCompacted(handle, Topics.REGISTRY, "machine/" + machine.id(), Optional.empty());
        }
    }

    private static void remove(Handle handle, Site site) {
        RegisterStore.removeSite(handle, site.id());
        Outbox.toCompacted(handle, Topics.REGISTRY, "site/" + site.id(), Optional.empty());
    }
}
