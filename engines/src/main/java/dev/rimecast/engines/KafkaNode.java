package dev.rimecast.engines;

import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.OptionalLong;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import kafka.server.BrokerServer;
import kafka.server.ControllerServer;
import kafka.server.KafkaConfig;
import kafka.server.KafkaRaftServer;
import kafka.server.Server;
import kafka.server.SharedServer;
import org.apache.kafka.common.message.RequestHeaderData;
import org.apache.kafka.common.metrics.Metrics;
import org.apache.kafka.common.security.auth.KafkaPrincipal;
import org.apache.kafka.common.utils.Time;
import org.apache.kafka.controller.Controller;
import org.apache.kafka.controller.ControllerRequestContext;
import org.apache.kafka.image.MetadataDelta;
import org.apache.kafka.image.MetadataImage;
import org.apache.kafka.image.loader.LoaderManifest;
import org.apache.kafka.image.publisher.MetadataPublisher;
import org.apache.kafka.metadata.BrokerRegistration;
import org.apache.kafka.metadata.bootstrap.BootstrapMetadata;
import org.apache.kafka.metadata.properties.MetaPropertiesEnsemble;
import org.apache.kafka.raft.QuorumConfig;
import org.apache.kafka.server.ServerSocketFactory;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Controller and broker of the only node, started one after the other as Kafka's own server does, with one step between
 * them: what a kill has left of the broker is taken out of the cluster first.
 *
 * <p>Without that step the broker finds in the metadata that it leads its partitions, takes up the transactions whose
 * decision was not yet written everywhere, and can't reach itself, since its sockets open later. Some seconds on, the
 * controller notices that the broker is a new one, and its partitions are without a leader for a moment. Kafka 4.4 takes
 * partitions without a leader for deleted ones and does not write the decision there: the transaction stays open for good,
 * and what lies behind it is never read. The step also spares the wait for the old session to end.
 */
final class KafkaNode {
    private static final Logger LOG = LoggerFactory.getLogger(KafkaNode.class);
    private static final Duration METADATA_LIMIT = Duration.ofSeconds(60);
    private static final long RETRY_MILLIS = 50;

    private final ControllerServer controller;
    private final BrokerServer broker;
    private final SharedServer shared;

    private KafkaNode(SharedServer shared, ControllerServer controller, BrokerServer broker) {
        this.shared = shared;
        this.controller = controller;
        this.broker = broker;
    }

    /** @param config of a node that is both controller and broker, its directories formatted */
    static KafkaNode of(KafkaConfig config) {
        scala.Tuple2<MetaPropertiesEnsemble, BootstrapMetadata> directories =
                KafkaRaftServer.initializeLogDirs(config, LOG, "");
        Metrics metrics = Server.initializeMetrics(
                config, Time.SYSTEM, directories._1().clusterId().orElseThrow());
        SharedServer shared = new SharedServer(
                config,
                directories._1(),
                Time.SYSTEM,
                metrics,
                CompletableFuture.completedFuture(
                        QuorumConfig.parseVoterConnections(config.quorumConfig().voters())),
                QuorumConfig.parseBootstrapServers(config.quorumConfig().bootstrapServers()),
                new kafka.server.StandardFaultHandlerFactory(),
                ServerSocketFactory.INSTANCE);
        BrokerServer broker = new BrokerServer(shared);
        ControllerServer controller = new ControllerServer(shared, KafkaRaftServer.configSchema(), directories._2());
        return new KafkaNode(shared, controller, broker);
    }

    /** Returns when clients are served. */
    void start() throws InterruptedException {
        controller.startup();
        removeFormerBroker();
        broker.startup();
    }

    private void removeFormerBroker() throws InterruptedException {
        Registration registration = new Registration();
        shared.loader().installPublishers(List.of(registration));
        if (await(registration.known)) {
            LOG.info("the broker was not stopped in order: its registration is removed before it starts");
            unregister(registration.gone);
            await(registration.gone);
        }
    }

    /** Asks until it is done: the controller may not have been elected yet, or have answered into the void. */
    private void unregister(CompletableFuture<Boolean> gone) throws InterruptedException {
        Controller leader = controller.controller();
        long deadline = System.nanoTime() + METADATA_LIMIT.toNanos();
        while (!gone.isDone()) {
            ControllerRequestContext context = new ControllerRequestContext(
                    new RequestHeaderData(), KafkaPrincipal.ANONYMOUS, OptionalLong.of(deadline));
            try {
                leader.unregisterBroker(context, BrokerConfig.NODE_ID).get();
                return;
            } catch (ExecutionException e) {
                if (System.nanoTime() > deadline) {
                    throw new EngineException("the controller does not take up its work", e);
                }
                Thread.sleep(RETRY_MILLIS);
            }
        }
    }

    private static <T> T await(CompletableFuture<T> future) throws InterruptedException {
        try {
            return future.get(METADATA_LIMIT.toMillis(), TimeUnit.MILLISECONDS);
        } catch (ExecutionException | TimeoutException e) {
            throw new EngineException("the metadata can't be read within " + METADATA_LIMIT.toSeconds() + " s", e);
        }
    }

    void shutDown() {
        broker.shutdown();
        controller.shutdown();
        broker.awaitShutdown();
        controller.awaitShutdown();
    }

    /** What the metadata says of the broker, from the moment when it is read to its end. */
    private static final class Registration implements MetadataPublisher {
        /** Whether a broker is registered that has not said goodbye. */
        final CompletableFuture<Boolean> known = new CompletableFuture<>();

        final CompletableFuture<Boolean> gone = new CompletableFuture<>();

        @Override
        public String name() {
            return "FormerBroker";
        }

        @Override
        public void onMetadataUpdate(MetadataDelta delta, MetadataImage image, LoaderManifest manifest) {
            Map<Integer, BrokerRegistration> brokers = image.cluster().brokers();
            BrokerRegistration broker = brokers.get(BrokerConfig.NODE_ID);
            boolean isThere = broker != null && !broker.fenced();
            known.complete(isThere);
            if (!isThere) {
                gone.complete(true);
            }
        }
    }
}
