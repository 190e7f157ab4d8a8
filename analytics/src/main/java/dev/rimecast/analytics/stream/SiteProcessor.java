package dev.rimecast.analytics.stream;

import static dev.rimecast.analytics.stream.DeadLetter.Reason.DECODE;
import static dev.rimecast.analytics.stream.DeadLetter.Reason.PROCESS;

import dev.rimecast.analytics.monitor.MonitorCounts;
import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.ack.GatewayAckJson;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.machine.Ids;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import org.apache.kafka.common.header.Headers;
import org.apache.kafka.common.header.internals.RecordHeaders;
import org.apache.kafka.streams.processor.PunctuationType;
import org.apache.kafka.streams.processor.api.Processor;
import org.apache.kafka.streams.processor.api.ProcessorContext;
import org.apache.kafka.streams.processor.api.Record;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Feeds one partition's records to the monitors of its sites. A record of a site goes to that site, a tick without a
 * site to every site whose log has begun.
 *
 * <p>Kafka Streams calls {@link #init} again after it has thrown away an unfinished transaction, with the store as the
 * last finished one left it; the monitors are made from it then, so none can be ahead of it.
 */
final class SiteProcessor implements Processor<String, byte[], String, byte[]> {
    /** By the contract a gateway is told at most so often how far its packs are stored. */
    static final Duration ACK_INTERVAL = Duration.ofSeconds(5);

    private static final Duration MEASURE_INTERVAL = Duration.ofMinutes(1);
    /** How often it is told that the thread works, so that one which stands still in a commit is seen. */
    private static final Duration WORKS_INTERVAL = Duration.ofMillis(50);

    private static final Logger log = LoggerFactory.getLogger(SiteProcessor.class);

    private final Policy firstPolicy;
    private final MonitorStep step;
    private final StageCounters counters;
    private final PromptCommit prompt;

    private final StateWriter scratch = new StateWriter();
    private @Nullable Task task;

    /** What exists only while the task runs. */
    private record Task(
            ProcessorContext<String, byte[]> context, LiveMonitors monitors, String id, TaskFigures.Task figures) {
        void measure() {
            figures.keeps(monitors.sites().size(), monitors.size());
        }
    }

    SiteProcessor(Policy firstPolicy, MonitorStep step, StageCounters counters, PromptCommit prompt) {
        this.firstPolicy = firstPolicy;
        this.step = step;
        this.counters = counters;
        this.prompt = prompt;
    }

    @Override
    public void init(ProcessorContext<String, byte[]> context) {
        String id = context.taskId().toString();
        Task begun = new Task(
                context,
                new LiveMonitors(context.getStateStore(SiteTopology.STORE), firstPolicy),
                id,
                counters.tasks().begin(id));
        task = begun;
        begun.measure();
        // The monitors read no clock; how often their gateways are told is no decision of theirs.
        context.schedule(ACK_INTERVAL, PunctuationType.WALL_CLOCK_TIME, now -> tellAcks(begun, now));
        context.schedule(MEASURE_INTERVAL, PunctuationType.WALL_CLOCK_TIME, now -> begun.measure());
        context.schedule(WORKS_INTERVAL, PunctuationType.WALL_CLOCK_TIME, now -> prompt.works());
    }

    /** In the same transaction as the state that says so: nobody is told what an aborted one has seen. */
    private static void tellAcks(Task running, long now) {
        for (String site : running.monitors().sites()) {
            running.monitors()
                    .of(site)
                    .tellAcks(ack -> running.context()
                            .forward(new Record<>(site, GatewayAckJson.encode(ack), now), SiteTopology.ACKS_SINK));
        }
    }

    @Override
    public void close() {
        Task ended = task;
        if (ended != null) {
            counters.tasks().end(ended.id(), ended.figures());
        }
        task = null;
    }

    @Override
    public void process(Record<String, byte[]> raw) {
        Task running = task;
        if (running == null) {
            throw new IllegalStateException("a record before the task was initialised");
        }
        prompt.works();
        running.figures().reached(raw.timestamp());
        SiteRecord entry = decode(raw.value());
        String site = raw.key();
        if (site != null) {
            if (!Ids.isLegal(site)) {
                throw new PoisonRecordException(PROCESS, "the key is not a site's identifier");
            }
            decide(running, site, entry, raw.timestamp());
        } else if (entry instanceof SiteRecord.Tick) {
            decideAll(running, entry, raw.timestamp());
        } else {
            throw new PoisonRecordException(
                    PROCESS, "a " + entry.getClass().getSimpleName() + " needs a site as its key");
        }
    }

    private static SiteRecord decode(byte @Nullable [] bytes) {
        if (bytes == null) {
            throw new PoisonRecordException(DECODE, "the record has no value");
        }
        try {
            return SiteLogCodec.decode(bytes);
        } catch (IllegalArgumentException e) {
            throw new PoisonRecordException(DECODE, String.valueOf(e.getMessage()), e);
        }
    }

    /** One site's trouble with a tick must not keep the minute from the others. */
    private void decideAll(Task running, SiteRecord tick, long timestamp) {
        PoisonRecordException first = null;
        for (String site : running.monitors().sites()) {
            try {
                decide(running, site, tick, timestamp);
            } catch (PoisonRecordException e) {
                if (first == null) {
                    first = e;
                } else {
                    first.addSuppressed(e);
                }
            }
        }
        if (first != null) {
            throw first;
        }
    }

    private void decide(Task running, String site, SiteRecord entry, long timestamp) {
        SiteMonitor monitor = running.monitors().of(site);
        MonitorCounts before = monitor.counts();
        Decisions decisions = new Decisions();
        try {
            step.apply(monitor, entry, decisions);
            monitor.saveTouched(scratch, decisions::state);
        } catch (RuntimeException e) {
            running.monitors().goBack(site);
            throw new PoisonRecordException(PROCESS, "site " + site + ": " + e, e);
        }
        running.monitors().save(site, decisions.states());
        for (byte[] cycle : decisions.cycles()) {
            running.context().forward(new Record<>(site, cycle, timestamp), SiteTopology.CYCLES_SINK);
        }
        for (byte[] finding : decisions.findings()) {
            Headers headers = new RecordHeaders()
                    .add(
                            Topics.RECORDED_AT_HEADER,
                            Instant.ofEpochMilli(timestamp).toString().getBytes(StandardCharsets.UTF_8));
            running.context().forward(new Record<>(site, finding, timestamp, headers), SiteTopology.FINDINGS_SINK);
        }
        if (!decisions.findings().isEmpty() && prompt.isDue()) {
            // What else the transaction holds is committed with it.
            running.context().commit();
        }
        for (byte[] proof : decisions.proofs()) {
            running.context().forward(new Record<>(site, proof, timestamp), SiteTopology.PROOFS_SINK);
        }
        decisions
                .gaps()
                .forEach(gap -> log.warn(
                        "site {}: {} packs of gateway {}, boot {}, from {} to {} never came and are given up",
                        site,
                        gap.missing(),
                        gap.gateway(),
                        gap.boot(),
                        gap.from(),
                        gap.to()));
        counters.readings(before, monitor.counts());
        counters.decided(decisions);
    }
}
