package dev.rimecast.alerts.consume;

import dev.rimecast.alerts.store.SiteLogStore;
import dev.rimecast.alerts.store.SiteLogStore.Entry;
import dev.rimecast.alerts.view.Changes.Change;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.Topics;
import java.util.Collection;
import java.util.List;
import org.apache.kafka.common.header.Headers;
import org.jdbi.v3.core.Handle;

/** The sites' logs, for the temperatures, newest values and presence on the pages. */
final class SitesHandler implements TopicHandler<Entry> {
    private final SiteLogStore store = new SiteLogStore();

    @Override
    public String topic() {
        return Topics.SITES;
    }

    @Override
    public Entry decode(String key, byte[] value, Headers headers) {
        return new Entry(key, SiteLogCodec.decode(value));
    }

    @Override
    public boolean canBeReadAgain() {
        return true;
    }

    @Override
    public Collection<Change> apply(Handle transaction, List<Entry> records) {
        return store.add(transaction, records).entrySet().stream()
                .map(read -> new Change("reading", read.getValue(), read.getKey(), ""))
                .toList();
    }

    @Override
    public void forget() {
        store.forget();
    }
}
