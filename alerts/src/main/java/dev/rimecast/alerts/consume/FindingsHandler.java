package dev.rimecast.alerts.consume;

import dev.rimecast.alerts.store.FindingStore;
import dev.rimecast.alerts.store.SiteLocks;
import dev.rimecast.alerts.view.Changes.Change;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.log.Topics;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import org.jdbi.v3.core.Handle;

/** Findings become alerts. */
final class FindingsHandler implements TopicHandler<Finding> {
    private final FindingStore store;
    private final InstantSource clock;

    FindingsHandler(FindingStore store, InstantSource clock) {
        this.store = store;
        this.clock = clock;
    }

    @Override
    public String topic() {
        return Topics.FINDINGS;
    }

    @Override
    public Finding decode(String key, byte[] value) {
        return FindingJson.decode(value);
    }

    @Override
    public Collection<Change> apply(Handle transaction, List<Finding> records) {
        SiteLocks.take(transaction, records.stream().map(Finding::site).toList());
        List<Change> changes = new ArrayList<>();
        for (Finding finding : records) {
            if (store.receive(transaction, finding, clock.instant())) {
                changes.add(new Change(
                        "alert",
                        finding.site(),
                        finding.machine().orElse(""),
                        finding.id().toString()));
            }
        }
        return changes;
    }

    @Override
    public void forget() {
        // holds nothing
    }
}
