package dev.rimecast.benchmarks.load;

import dev.rimecast.analytics.monitor.Nowhere;
import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.analytics.stream.AnalyticsStage;
import dev.rimecast.analytics.stream.StageHealth;
import dev.rimecast.analytics.stream.StageSettings;
import dev.rimecast.app.server.Role;
import dev.rimecast.ingest.IngestSettings;
import dev.rimecast.ingest.IngestStage;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.LongSupplier;
import org.apache.kafka.clients.producer.KafkaProducer;

/** One run of one part, in a directory of its own, everything started and stopped. */
final class Part {
    private static final int UNDER_WAY = 4000;
    private static final Duration START = Duration.ofSeconds(60);
    /** Of a log that is read: so much of it is for warming up. */
    private static final double WARM_SHARE = 0.5;

    /** What can be measured, ceilings before what is held against them. */
    enum Name {
        ECHO("MQTT echo"),
        PRODUCE("Kafka in"),
        CONSUME("Kafka out"),
        BRIDGE("bridge"),
        INGEST("ingest"),
        COUNT("counting"),
        DECODE("decode"),
        MONITOR("monitor"),
        MONITORS("monitors"),
        STATES("states"),
        ANALYTICS("analytics"),
        PARSE("bare parse"),
        SENML("SenML"),
        DUCKDB("DuckDB"),
        PIPELINE("pipeline"),
        WHOLE("whole"),
        LATENCY("latency");

        private final String label;

        Name(String label) {
            this.label = label;
        }

        String label() {
            return label;
        }
    }

    private final LearnedSite site;
    private final int clones;
    private final int seconds;
    /** Of the load under which an alert is waited for. */
    private final int packsPerSecond;

    Part(LearnedSite site, int clones, int seconds, int packsPerSecond) {
        this.packsPerSecond = packsPerSecond;
        this.site = site;
        this.clones = clones;
        this.seconds = seconds;
    }

    Measure run(Name name) throws Exception {
        Path directory = Files.createTempDirectory("rimecast-bench");
        try {
            return switch (name) {
                case ECHO -> echo();
                case PRODUCE -> KafkaAlone.produce(site, clones, directory, seconds);
                case CONSUME -> KafkaAlone.consume(site, clones, directory, seconds);
                case BRIDGE -> bridge(directory);
                case INGEST -> ingest(directory);
                case COUNT -> counting(directory);
                case DECODE -> decode();
                case MONITOR -> monitor();
                case MONITORS -> new Monitors(site, clones, false).run(places());
                case STATES -> new Monitors(site, clones, true).run(places());
                case ANALYTICS -> analytics(directory);
                case PARSE -> Parsing.bare(site);
                case SENML -> Parsing.senml(site);
                case DUCKDB -> Parsing.duckDb(site, directory);
                case PIPELINE ->
                    new WholeRun(site, clones, seconds, Set.of(Role.INGEST, Role.ANALYTICS)).sustained(directory);
                case WHOLE -> new WholeRun(site, clones, seconds, Role.all()).sustained(directory);
                case LATENCY -> new WholeRun(site, clones, seconds, Role.all()).latency(directory, packsPerSecond);
            };
        } finally {
            Engine.delete(directory);
        }
    }

    private Measure echo() throws Exception {
        try (Bridge server = Bridge.echo();
                MqttLoad load = load(new AtomicLong())) {
            return underLoad(load, server.port());
        }
    }

    private Measure bridge(Path directory) throws Exception {
        try (Engine engine = new Engine(directory);
                KafkaProducer<byte[], byte[]> producer = engine.producer();
                Bridge server = Bridge.to(producer, Topics.SITES);
                MqttLoad load = load(new AtomicLong())) {
            return underLoad(load, server.port());
        }
    }

    private Measure ingest(Path directory) throws Exception {
        AtomicLong clock = new AtomicLong(site.from().toEpochMilli());
        try (Engine engine = new Engine(directory)) {
            engine.register(site, clones);
            try (IngestStage stage = IngestStage.start(
                            IngestSettings.standard(engine.client())
                                    .withMqtt("127.0.0.1", 0)
                                    .withoutRateLimit(),
                            () -> Instant.ofEpochMilli(clock.get()),
                            new SimpleMeterRegistry());
                    MqttLoad load = load(clock)) {
                require(stage.awaitReady(START), "ingest did not read its register");
                Measure measure = underLoad(load, stage.mqttPort());
                require(load.refused() == 0, "packs were refused");
                return measure;
            }
        }
    }

    private MqttLoad load(AtomicLong clock) {
        List<Template> templates =
                site.packs().stream().map(pack -> Template.of(pack, "b1")).toList();
        return new MqttLoad(templates, clock, clones, UNDER_WAY);
    }

    /** As fast as receipts come. */
    private Measure underLoad(MqttLoad load, int port) throws Exception {
        load.connect(port);
        load.run(site.packs().size());
        TimeUnit.SECONDS.sleep(seconds);
        Measure measure = Measure.over(seconds, load::receipts, load.thread());
        require(load.receipts() < (long) site.packs().size() * clones, "the packs did not last: measure for less long");
        return measure;
    }

    private Measure counting(Path directory) throws Exception {
        try (Engine engine = new Engine(directory)) {
            long packs = new SitesLog(site, clones).packs(engine, 0, places());
            try (Counting counting = new Counting(engine)) {
                return drained(counting::counted, packs, "Counting");
            }
        }
    }

    /** The same work as analytics has: one thread, from the log to the state. */
    private Measure analytics(Path directory) throws Exception {
        try (Engine engine = new Engine(directory)) {
            SitesLog log = new SitesLog(site, clones);
            log.learned(engine);
            long packs = log.packs(engine, 0, places());
            SimpleMeterRegistry meters = new SimpleMeterRegistry();
            try (AnalyticsStage stage = AnalyticsStage.start(
                    StageSettings.oneMachine(engine.client(), directory.resolve("streams")), meters)) {
                LongSupplier used = () -> (long) meters.get("rimecast.analytics.readings")
                                .tag("outcome", "used")
                                .counter()
                                .count()
                        / LearnedSite.PACK;
                Measure measure = drained(used, packs, "rimecast-analytics");
                require(stage.health().state() == StageHealth.State.RUNNING, "analytics gave up");
                return measure;
            }
        }
    }

    /** Packs of each clone that a log has which is read: enough for the time that is asked for, at a rate that is seldom reached. */
    private int places() {
        return Math.min(site.packs().size(), Math.max(40, seconds * 60_000 / clones));
    }

    /** Waits for the warm share, then measures the rest; processor time is that of the stream's own thread. */
    private static Measure drained(LongSupplier done, long packs, String thread) throws InterruptedException {
        long deadline = System.nanoTime() + Duration.ofMinutes(5).toNanos();
        while (done.getAsLong() < packs * WARM_SHARE) {
            require(System.nanoTime() < deadline, "nothing went on for five minutes");
            TimeUnit.MILLISECONDS.sleep(5);
        }
        long from = done.getAsLong();
        long cpu = Measure.threadsNanos(thread + "-");
        long stream = streamNanos(thread);
        Measure measure =
                Measure.until(() -> done.getAsLong() >= packs * 0.98 || System.nanoTime() > deadline, done, 0);
        double count = Math.max(1, done.getAsLong() - from);
        return measure.with("stream us/pack", (streamNanos(thread) - stream) / 1000.0 / count)
                .with("stream and producer us/pack", (Measure.threadsNanos(thread + "-") - cpu) / 1000.0 / count);
    }

    private static long streamNanos(String application) {
        return Measure.threadsNanos(application + "-") - Measure.threadsNanos("thread | " + application);
    }

    private Measure decode() {
        List<byte[]> records = records();
        for (int warm = 0; warm < 3; warm++) {
            decodeAll(records);
        }
        return Measure.ofThread(() -> decodeAll(records), records.size());
    }

    private static long decodeAll(List<byte[]> records) {
        long sum = 0;
        for (byte[] bytes : records) {
            sum += ((SiteRecord.Pack) SiteLogCodec.decode(bytes)).readings().size();
        }
        return sum;
    }

    private List<byte[]> records() {
        List<byte[]> records = new ArrayList<>();
        for (int place = 0; place < site.packs().size(); place++) {
            records.add(SitesLog.bytes(site.packs().get(place), place + 1L));
        }
        return records;
    }

    private Measure monitor() {
        List<SiteRecord> log = site.log();
        for (int warm = 0; warm < 3; warm++) {
            monitorAll(log);
        }
        return Measure.ofThread(() -> monitorAll(log), site.packs().size());
    }

    private long monitorAll(List<SiteRecord> log) {
        SiteMonitor monitor = SiteMonitor.restore(Clone.FIRST, site.states());
        log.forEach(entry -> monitor.accept(entry, Nowhere.OUTPUT));
        return monitor.counts().used();
    }

    static void require(boolean isSo, String otherwise) {
        if (!isSo) {
            throw new IllegalStateException(otherwise);
        }
    }
}
