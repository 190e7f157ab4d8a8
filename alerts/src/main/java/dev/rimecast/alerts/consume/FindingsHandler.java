package dev.rimecast.alerts.consume;

import dev.rimecast.alerts.store.FindingStore;
import dev.rimecast.alerts.store.SiteLocks;
import dev.rimecast.alerts.view.Changes.Change;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.log.Topics;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.InstantSource;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import org.apache.kafka.common.header.Header;
import org.apache.kafka.common.header.Headers;
import org.jdbi.v3.core.Handle;

/** Findings become alerts. */
final class FindingsHandler implements TopicHandler<FindingsHandler.Entry> {
    /** About a second of them on a busy machine. */
    static final int MOST_AT_ONCE = 100;

    private final FindingStore store;
    private final InstantSource clock;
    private final ReadingToAlert readingToAlert;
    /** Of the transaction under way: when what raised an alert came into the site's log. */
    private final List<Instant> raised = new ArrayList<>();

    /** @param recordedAt when what decided it came into the site's log; empty: from a version that did not say */
    record Entry(Finding finding, Optional<Instant> recordedAt) {}

    FindingsHandler(FindingStore store, InstantSource clock, ReadingToAlert readingToAlert) {
        this.store = store;
        this.clock = clock;
        this.readingToAlert = readingToAlert;
    }

    @Override
    public String topic() {
        return Topics.FINDINGS;
    }

    @Override
    public int mostAtOnce() {
        return MOST_AT_ONCE;
    }

    @Override
    public Entry decode(String key, byte[] value, Headers headers) {
        return new Entry(FindingJson.decode(value), recordedAt(headers));
    }

    /** What can't be read is not told: an alert is worth more than its time. */
    private static Optional<Instant> recordedAt(Headers headers) {
        Header header = headers.lastHeader(Topics.RECORDED_AT_HEADER);
        if (header == null || header.value() == null) {
            return Optional.empty();
        }
        try {
            return Optional.of(Instant.parse(new String(header.value(), StandardCharsets.UTF_8)));
        } catch (DateTimeParseException e) {
            return Optional.empty();
        }
    }

    @Override
    public Collection<Change> apply(Handle transaction, List<Entry> records) {
        SiteLocks.take(
                transaction,
                records.stream().map(entry -> entry.finding().site()).toList());
        List<Change> changes = new ArrayList<>();
        for (Entry entry : records) {
            Finding finding = entry.finding();
            if (store.receive(transaction, finding, clock.instant())) {
                if (finding.step() == Finding.Step.RAISED) {
                    entry.recordedAt().ifPresent(raised::add);
                }
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
    public void committed() {
        raised.forEach(readingToAlert::raised);
        raised.clear();
    }

    @Override
    public void forget() {
        raised.clear();
    }
}
