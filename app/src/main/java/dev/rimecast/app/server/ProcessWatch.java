package dev.rimecast.app.server;

import dev.rimecast.alerts.AlertsStage;
import dev.rimecast.app.backup.BackupException;
import dev.rimecast.dashboard.system.NotPossibleException;
import dev.rimecast.dashboard.system.SystemWatch;
import dev.rimecast.ingest.IngestStage;
import dev.rimecast.ingest.kafka.LaidAside;
import dev.rimecast.ingest.kafka.RejectId;
import dev.rimecast.ingest.kafka.RejectReplay;
import dev.rimecast.ingest.kafka.letters.DeadLetterReplay;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.FileStore;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Properties;
import java.util.function.Supplier;

/**
 * This process for whoever runs it; what was rejected is known where it runs ingest.
 *
 * @param letters of every stage, wherever it runs
 * @param waiting readings of machines in no register, wherever ingest runs
 */
record ProcessWatch(
        Path data,
        Optional<IngestStage> ingest,
        DeadLetterReplay letters,
        Supplier<List<LaidAside.Unclaimed>> waiting,
        Backups backups,
        InstantSource clock)
        implements SystemWatch {

    /** By ingest's register where it runs here, else by that of the database. */
    static Supplier<List<LaidAside.Unclaimed>> waiting(
            Optional<IngestStage> ingest, Optional<AlertsStage> alerts, Map<String, String> kafka) {
        return () -> ingest.map(IngestStage::unclaimed)
                .or(() -> alerts.map(stage ->
                        new LaidAside(kafka).unclaimed(stage.registerImport().current())))
                .orElse(List.of());
    }

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
    public List<DeadLetter> deadLetters(int most) {
        return letters.newest(most).stream().map(ProcessWatch::letter).toList();
    }

    private static DeadLetter letter(dev.rimecast.ingest.kafka.letters.DeadLetter of) {
        return new DeadLetter(
                of.id(),
                of.at(),
                of.source().stage(),
                of.source().topic(),
                of.source().partition(),
                of.source().offset(),
                of.key(),
                of.why(),
                of.content(),
                of.payload(),
                of.obstacle(),
                of.isOpen(),
                of.attempts().stream().map(ProcessWatch::retaken).toList());
    }

    private static Retake retaken(dev.rimecast.ingest.kafka.letters.DeadLetter.Attempt of) {
        return new Retake(of.at(), of.by(), of.failedAgain());
    }

    @Override
    public RetakeOutcome retake(String id, String by) {
        DeadLetterReplay.Outcome outcome = letters.replay(id, by, clock.instant());
        if (outcome instanceof DeadLetterReplay.Outcome.Done done) {
            return new RetakeOutcome.Done(retaken(done.attempt()));
        }
        if (outcome instanceof DeadLetterReplay.Outcome.Impossible impossible) {
            throw new NotPossibleException(impossible.why());
        }
        return outcome instanceof DeadLetterReplay.Outcome.NothingLeft nothing
                ? new RetakeOutcome.NothingLeft(retaken(nothing.before()))
                : new RetakeOutcome.Unknown();
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
        return waiting.get().stream()
                .map(u -> new Unclaimed(u.machine(), u.gateway(), u.readings(), u.firstAt(), u.lastAt()))
                .toList();
    }
}
