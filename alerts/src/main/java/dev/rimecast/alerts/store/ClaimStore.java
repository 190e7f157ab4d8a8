package dev.rimecast.alerts.store;

import dev.rimecast.alerts.people.AccountNote;
import dev.rimecast.telemetry.machine.Machine;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import org.jdbi.v3.core.Handle;

/** Which machines of the register are there by a claim; each change has its line in the audit of accounts. */
public final class ClaimStore {
    private ClaimStore() {}

    /** When a machine was claimed, and by whom. */
    public record Claimed(Instant at, String by) {}

    /** By machine, in its order. */
    public static Map<String, Claimed> all(Handle handle) {
        Map<String, Claimed> claims = new LinkedHashMap<>();
        handle.createQuery("select machine, claimed_at, claimed_by from machine_claim order by machine")
                .map((row, context) -> Map.entry(
                        row.getString(1), new Claimed(row.getTimestamp(2).toInstant(), row.getString(3))))
                .forEach(claim -> claims.put(claim.getKey(), claim.getValue()));
        return claims;
    }

    public static void put(Handle handle, Machine machine, Claimed claimed) {
        handle.createUpdate("insert into machine_claim (machine, claimed_at, claimed_by) values (:machine, :at, :by)")
                .bind("machine", machine.id())
                .bind("at", claimed.at())
                .bind("by", claimed.by())
                .execute();
        note(handle, claimed.at(), claimed.by(), "machine claimed", machine);
    }

    /** It is out of the register again. */
    public static void release(Handle handle, Machine machine, String by, Instant at) {
        delete(handle, machine.id());
        note(handle, at, by, "claimed machine taken out", machine);
    }

    /** The file names it now. */
    public static void follow(Handle handle, Machine inFile, Instant at) {
        delete(handle, inFile.id());
        note(handle, at, "start of the server", "claimed machine is in the file", inFile);
    }

    private static void delete(Handle handle, String machine) {
        handle.createUpdate("delete from machine_claim where machine = :machine")
                .bind("machine", machine)
                .execute();
    }

    private static void note(Handle handle, Instant at, String who, String what, Machine machine) {
        String detail = machine.id() + ": site " + machine.site() + ", gateway " + machine.gateway();
        PeopleRows.append(handle, new AccountNote(at, who, Optional.empty(), what, detail));
    }
}
