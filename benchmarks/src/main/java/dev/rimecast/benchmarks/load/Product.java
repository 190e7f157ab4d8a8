package dev.rimecast.benchmarks.load;

import dev.rimecast.analytics.stream.StageHealth;
import dev.rimecast.app.server.Role;
import dev.rimecast.app.server.Server;
import dev.rimecast.app.server.ServerSettings;
import dev.rimecast.telemetry.file.MachinesFile;
import dev.rimecast.telemetry.file.SitesFile;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Site;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.TimeUnit;

/** The product in this process, with clones of the recorded site that have lived for three weeks. */
final class Product {
    private final LearnedSite site;
    private final int clones;
    private final Path directory;
    private final Set<Role> roles;

    Product(LearnedSite site, int clones, Path directory, Set<Role> roles) {
        this.roles = roles;
        this.site = site;
        this.clones = clones;
        this.directory = directory;
    }

    /** Puts what the machines have learned where analytics finds it; before the first start. */
    void prepare() throws IOException {
        Path data = directory.resolve("server");
        Files.createDirectories(data);
        try (Engine engine = new Engine(data)) {
            new SitesLog(site, clones).learned(engine);
            if (!roles.contains(Role.ALERTS)) {
                engine.register(site, clones);
            }
            engine.keep();
        }
        List<Machine> machines = new ArrayList<>();
        List<Site> sites = new ArrayList<>();
        for (int clone = 0; clone < clones; clone++) {
            sites.add(Site.basic(Clone.name(clone)));
            for (Machine machine : site.machines()) {
                machines.add(of(machine, clone));
            }
        }
        MachinesFile.write(directory.resolve("machines.csv"), machines);
        SitesFile.write(directory.resolve("sites.csv"), sites);
    }

    private static Machine of(Machine machine, int clone) {
        byte[] row = Clone.of(SiteLogCodec.encode(new SiteRecord.Registered(Instant.EPOCH, machine)), clone);
        return ((SiteRecord.Registered) SiteLogCodec.decode(row)).machine();
    }

    /** Starts it, and waits until every machine is known everywhere and nothing is behind. */
    Server start(InstantSource clock) throws InterruptedException {
        Server server = begin(clock);
        int machines = clones * site.machines().size();
        // Lag is only known once partitions are there: it has to be 0 for a second.
        for (int calm = 0; calm < 10; ) {
            TimeUnit.MILLISECONDS.sleep(100);
            boolean isThere = server.meters()
                                    .get("rimecast.ingest.register.machines")
                                    .gauge()
                                    .value()
                            >= machines
                    && server.analytics().health().state() == StageHealth.State.RUNNING
                    && server.analytics().lagRecords() == 0;
            calm = isThere ? calm + 1 : 0;
        }
        return server;
    }

    private Server begin(InstantSource clock) {
        ServerSettings.Address free = new ServerSettings.Address("127.0.0.1", 0);
        return Server.start(
                new ServerSettings(
                        directory.resolve("server"),
                        roles,
                        free,
                        new ServerSettings.Mqtt(free, 0),
                        Optional.empty(),
                        ServerSettings.TopicShape.ONE_MACHINE,
                        Optional.empty(),
                        roles.contains(Role.ALERTS)
                                ? new ServerSettings.Files(
                                        Optional.of(directory.resolve("machines.csv")),
                                        Optional.of(directory.resolve("sites.csv")),
                                        Optional.empty())
                                : ServerSettings.Files.NONE),
                clock,
                Optional::empty,
                failure -> System.err.println("an engine gave up: " + failure));
    }
}
