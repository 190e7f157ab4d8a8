package dev.rimecast.alerts.store;

import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Site;
import java.time.Instant;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import org.jdbi.v3.core.Handle;

/** The register and the policy's versions, as they were imported. */
public final class RegisterStore {
    private RegisterStore() {}

    /** A version of the policy with its whole text. */
    public record PolicyVersion(String version, String yaml) {}

    /** One import at a time: the next waits here until this transaction has ended. */
    public static void lock(Handle handle) {
        handle.execute("select pg_advisory_xact_lock(hashtextextended('rimecast register', 0))");
    }

    public static List<Machine> machines(Handle handle) {
        return handle.createQuery("select record from machine order by id")
                .map((row, context) -> machine(row.getBytes(1)))
                .list();
    }

    public static List<Machine> machinesOf(Handle handle, String site) {
        return handle.createQuery("select record from machine where site = :site order by id")
                .bind("site", site)
                .map((row, context) -> machine(row.getBytes(1)))
                .list();
    }

    /** Those of the named machines that are in the register. */
    static List<Machine> machines(Handle handle, Collection<String> ids) {
        return ids.isEmpty()
                ? List.of()
                : handle.createQuery("select record from machine where id = any(:ids)")
                        .bindArray("ids", String.class, ids)
                        .map((row, context) -> machine(row.getBytes(1)))
                        .list();
    }

    public static List<Site> sites(Handle handle) {
        return handle.createQuery("select record from site order by id")
                .map((row, context) -> site(row.getBytes(1)))
                .list();
    }

    public static Optional<Machine> machine(Handle handle, String id) {
        return handle.createQuery("select record from machine where id = :id")
                .bind("id", id)
                .map((row, context) -> machine(row.getBytes(1)))
                .findOne();
    }

    /** Those that machines name, by name. */
    public static List<String> modelGroups(Handle handle) {
        return handle.createQuery("select distinct model_group from machine where model_group is not null order by 1")
                .mapTo(String.class)
                .list();
    }

    public static Optional<Site> site(Handle handle, String id) {
        return handle.createQuery("select record from site where id = :id")
                .bind("id", id)
                .map((row, context) -> site(row.getBytes(1)))
                .findOne();
    }

    /** The version that was activated last. */
    public static Optional<PolicyVersion> policy(Handle handle) {
        return handle.createQuery("select version, yaml from policy_version order by sequence desc limit 1")
                .map((row, context) -> new PolicyVersion(row.getString(1), row.getString(2)))
                .findOne();
    }

    public static Optional<PolicyVersion> policy(Handle handle, String version) {
        return handle.createQuery("select version, yaml from policy_version where version = :version")
                .bind("version", version)
                .map((row, context) -> new PolicyVersion(row.getString(1), row.getString(2)))
                .findOne();
    }

    /** Makes a version the newest, also one that was there before. */
    public static void activate(Handle handle, PolicyVersion policy, Instant at) {
        handle.createUpdate("delete from policy_version where version = :version")
                .bind("version", policy.version())
                .execute();
        handle.createUpdate("insert into policy_version (version, activated_at, yaml) values (:version, :at, :yaml)")
                .bind("version", policy.version())
                .bind("at", at)
                .bind("yaml", policy.yaml())
                .execute();
    }

    public static void put(Handle handle, Site site, Instant at) {
        handle.createUpdate("""
                insert into site (id, name, record) values (:id, :name, :record)
                on conflict (id) do update set name = excluded.name, record = excluded.record""")
                .bind("id", site.id())
                .bind("name", site.name())
                .bind("record", SiteLogCodec.encode(new SiteRecord.SiteChanged(at, site)))
                .execute();
    }

    public static void put(Handle handle, Machine machine, Instant at) {
        handle.createUpdate("""
                insert into machine (id, site, gateway, room, model_group, serial, record)
                values (:id, :site, :gateway, :room, :modelGroup, :serial, :record)
                on conflict (id) do update set site = excluded.site, gateway = excluded.gateway, room = excluded.room,
                    model_group = excluded.model_group, serial = excluded.serial, record = excluded.record""")
                .bind("id", machine.id())
                .bind("site", machine.site())
                .bind("gateway", machine.gateway())
                .bind("room", machine.room())
                .bind("modelGroup", machine.modelGroup())
                .bind("serial", machine.serial())
                .bind("record", SiteLogCodec.encode(new SiteRecord.Registered(at, machine)))
                .execute();
    }

    public static void removeMachine(Handle handle, String id) {
        handle.createUpdate("delete from machine where id = :id").bind("id", id).execute();
    }

    public static void removeSite(Handle handle, String id) {
        handle.createUpdate("delete from site where id = :id").bind("id", id).execute();
    }

    private static Machine machine(byte[] record) {
        return ((SiteRecord.Registered) SiteLogCodec.decode(record)).machine();
    }

    private static Site site(byte[] record) {
        return ((SiteRecord.SiteChanged) SiteLogCodec.decode(record)).site();
    }
}
