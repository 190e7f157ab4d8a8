package dev.rimecast.alerts.register;

import dev.rimecast.alerts.policy.PolicyChange;
import dev.rimecast.alerts.store.Outbox;
import dev.rimecast.alerts.store.PolicyLedger;
import dev.rimecast.alerts.store.RegisterStore;
import dev.rimecast.alerts.store.RegisterStore.PolicyVersion;
import dev.rimecast.telemetry.log.SiteRecord.PolicyActivated;
import dev.rimecast.telemetry.log.Topics;
import java.util.Optional;
import org.jdbi.v3.core.Handle;

/**
 * Puts a policy into force: a row that says who and why, and a record on its way into the compacted topic. In each site's log
 * it is a record among the readings, so what was decided by which policy is a matter of the log and of nothing else.
 */
final class Activation {
    private Activation() {}

    /**
     * In the transaction of whoever puts it into force, who tells the sites.
     *
     * @throws IllegalArgumentException if the name has another text already
     */
    static PolicyActivated of(Handle handle, PolicyChange change) {
        RegisterStore.policy(handle, change.version())
                .filter(same -> !same.yaml().equals(change.yaml()))
                .ifPresent(other -> {
                    throw new IllegalArgumentException("policy version " + change.version()
                            + " was imported with another text: give the changed policy a version of its own");
                });
        RegisterStore.activate(handle, new PolicyVersion(change.version(), change.yaml()), change.at());
        PolicyLedger.append(handle, change);
        PolicyActivated record = new PolicyActivated(change.at(), change.version(), change.yaml());
        Outbox.toCompacted(handle, Topics.POLICIES, change.version(), Optional.of(record));
        return record;
    }

    /** Its number. */
    static int next(Handle handle) {
        return 1 + PolicyLedger.newest(handle).map(PolicyChange::number).orElse(0);
    }
}
