package dev.rimecast.app.server;

import dev.rimecast.dashboard.system.SystemWatch;
import dev.rimecast.ingest.IngestStage;
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
record ProcessWatch(Path data, Optional<IngestStage> ingest) implements SystemWatch {

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
                .map(r -> new Rejected(r.at(), r.sender(), r.topic(), r.reasons(), r.payload()))
                .toList();
    }

    @Override
    public List<Unclaimed> unclaimed() {
        return ingest.map(IngestStage::unclaimed).orElse(List.of()).stream()
                .map(u -> new Unclaimed(u.machine(), u.gateway(), u.readings(), u.firstAt(), u.lastAt()))
                .toList();
    }
}
