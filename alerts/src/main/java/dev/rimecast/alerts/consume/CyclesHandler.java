package dev.rimecast.alerts.consume;

import dev.rimecast.alerts.store.CycleStore;
import dev.rimecast.alerts.view.Changes.Change;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.cycle.CycleJson;
import dev.rimecast.telemetry.log.Topics;
import java.util.Collection;
import java.util.List;
import org.jdbi.v3.core.Handle;

/** Finished cycles, for the machine's page. */
final class CyclesHandler implements TopicHandler<Cycle> {

    @Override
    public String topic() {
        return Topics.CYCLES;
    }

    @Override
    public Cycle decode(String key, byte[] value) {
        return CycleJson.decode(value);
    }

    @Override
    public Collection<Change> apply(Handle transaction, List<Cycle> records) {
        CycleStore.write(transaction, records);
        return records.stream()
                .map(Cycle::machine)
                .distinct()
                .map(machine -> new Change("cycle", machine, ""))
                .toList();
    }

    @Override
    public void forget() {
        // holds nothing
    }
}
