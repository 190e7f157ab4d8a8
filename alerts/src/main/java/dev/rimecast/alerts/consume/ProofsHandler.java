package dev.rimecast.alerts.consume;

import dev.rimecast.alerts.store.ProofStore;
import dev.rimecast.alerts.view.Changes.Change;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.proof.Proof;
import dev.rimecast.telemetry.proof.ProofJson;
import java.util.Collection;
import java.util.List;
import org.apache.kafka.common.header.Headers;
import org.jdbi.v3.core.Handle;

/** Whether recorded work has held, for the machine's page. */
final class ProofsHandler implements TopicHandler<Proof> {

    @Override
    public String topic() {
        return Topics.PROOFS;
    }

    @Override
    public Proof decode(String key, byte[] value, Headers headers) {
        return ProofJson.decode(value);
    }

    @Override
    public Collection<Change> apply(Handle transaction, List<Proof> records) {
        return records.stream()
                .filter(proof -> ProofStore.write(transaction, proof))
                .map(proof -> new Change("alert", proof.site(), proof.machine(), ""))
                .distinct()
                .toList();
    }

    @Override
    public void forget() {
        // holds nothing
    }
}
