package dev.rimecast.app.server;

import dev.rimecast.app.backup.BackupException;
import dev.rimecast.dashboard.system.NotPossibleException;
import dev.rimecast.dashboard.system.SystemWatch;
import dev.rimecast.ingest.IngestStage;
import dev.rimecast.ingest.kafka.LaidAside;
import dev.rimecast.ingest.kafka.RejectId;
import dev.rimecast.ingest.kafka.RejectReplay;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.FileStore;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Properties;

/** This process for whoever runs it; what was laid aside is known where it runs ingest. */
record ProcessWatch(Path data, Optional<IngestStage> ingest, Backups backups) implements SystemWatch {

    @Override
    public List<Version> versions() {
        List<Version> versions = new ArrayList<>();
        versions.add(new Version("Rimecast", dev.rimecast.app.server.Version.text()));
        versions.add(new Version("Java", Runtime.version().toString()));
        versions.add(new Version("Kafka client", kafka()));
        versions.add(new Version(System.getProperty("os.name"), System.getProperty("os.version")));
        return versions;
    }

    /** As the library itself says. */
    private static String kafka() {
        try (InputStream in = ProcessWatch.class.getResourceAsStream("/kafka/kafka-version.properties")) {
            Properties properties = new Properties();
            if (in != null) {
                properties.load(in);
            }
            return properties.getProperty("version", "unknown");
        } catch (IOException e) {
            return "unknown";
        }
    }

    @Override
    public List<Disk> disks() {
        try {
            FileStore store = Files.getFileStore(data);
            return List.of(new Disk(data.toString(), store.getUsableSpace(), store.getTotalSpace()));
        } catch (IOException e) {
            return List.of();
        }
    }

    @Override
    public List<Rejected> rejects(int most) {
        return ingest.map(stage -> stage.rejects(most)).orElse(List.of()).stream()
                .map(ProcessWatch::rejected)
                .toList();
    }

    private static Rejected rejected(LaidAside.Rejected of) {
        return new Rejected(
                of.id().toString(),
                of.at(),
                of.sender(),
                of.topic(),
                of.reasons(),
                of.payload(),
                of.replays().stream().map(ProcessWatch::replayed).toList());
    }

    private static Replayed replayed(dev.rimecast.ingest.kafka.Replayed of) {
        return new Replayed(of.at(), of.by(), of.stored(), of.unclaimed(), of.rejected());
    }

    @Override
    public ReplayOutcome replay(String id, String by) {
        Optional<RejectId> message = RejectId.parse(id);
        if (ingest.isEmpty() || message.isEmpty()) {
            return new ReplayOutcome.Unknown();
        }
        RejectReplay.Outcome outcome = ingest.get().replayReject(message.get(), by);
        if (outcome instanceof RejectReplay.Outcome.Done done) {
            return new ReplayOutcome.Done(replayed(done.replayed()));
        }
        return outcome instanceof RejectReplay.Outcome.NothingLeft nothing
                ? new ReplayOutcome.NothingLeft(nothing.before().map(ProcessWatch::replayed))
                : new ReplayOutcome.Unknown();
    }

    @Override
    public Path backup() throws IOException {
        try {
            return backups.spool();
        } catch (BackupException e) {
            throw new NotPossibleException(String.valueOf(e.getMessage()), e);
        }
    }

    @Override
    public List<Unclaimed> unclaimed() {
        return ingest.map(IngestStage::unclaimed).orElse(List.of()).stream()
                .map(u -> new Unclaimed(u.machine(), u.gateway(), u.readings(), u.firstAt(), u.lastAt()))
                .toList();
    }
}
