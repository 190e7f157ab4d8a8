package dev.rimecast.alerts.consume;

import dev.rimecast.alerts.store.AcceptanceStore;
import dev.rimecast.alerts.store.CycleStore;
import dev.rimecast.alerts.view.Changes.Change;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.cycle.CycleJson;
import dev.rimecast.telemetry.log.Topics;
import java.util.Collection;
import java.util.List;
import org.apache.kafka.common.header.Headers;
import org.jdbi.v3.core.Handle;

/** Finished cycles, for the machine's page. */
final class CyclesHandler implements TopicHandler<CyclesHandler.Entry> {

    /** A cycle and the site that it was on. */
    record Entry(String site, Cycle cycle) {}

    @Override
    public String topic() {
        return Topics.CYCLES;
    }

    @Override
    public Entry decode(String key, byte[] value, Headers headers) {
        return new Entry(key, CycleJson.decode(value));
    }

    @Override
    public Collection<Change> apply(Handle transaction, List<Entry> records) {
        CycleStore.write(transaction, records.stream().map(Entry::cycle).toList());
        records.forEach(entry -> AcceptanceStore.write(transaction, entry.site(), entry.cycle()));
        return records.stream()
                .map(entry -> new Change("cycle", entry.site(), entry.cycle().machine(), ""))
                .distinct()
                .toList();
    }

    @Override
    public void forget() {
        // holds nothing
    }
}
