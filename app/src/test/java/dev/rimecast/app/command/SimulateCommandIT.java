package dev.rimecast.app.command;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.gateways.GatewayDesk;
import dev.rimecast.alerts.people.Answer;
import dev.rimecast.analytics.stream.SiteLogReader;
import dev.rimecast.app.config.TestCertificate;
import dev.rimecast.app.server.Role;
import dev.rimecast.app.server.Server;
import dev.rimecast.app.server.ServerSettings;
import dev.rimecast.ingest.IngestSettings;
import dev.rimecast.ingest.mqtt.Listen;
import dev.rimecast.simulator.fleet.FleetFiles;
import dev.rimecast.simulator.fleet.FleetPlan;
import dev.rimecast.simulator.fleet.SimulatedFleet;
import dev.rimecast.simulator.fleet.SimulatedSite;
import dev.rimecast.simulator.trial.TrialChannels;
import dev.rimecast.simulator.trial.TrialFleet;
import dev.rimecast.simulator.trial.TrialSettings;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;

/** Simulated gateways feed a server that lets nobody in without a key: one with a certificate, the other with a secret. */
class SimulateCommandIT {
    private static final Instant UNTIL = Instant.parse("2026-05-20T00:00:00Z");
    private static final int DAYS = 25;
    private static final FleetPlan PLAN =
            TrialFleet.plan(new TrialSettings(1, 2, DAYS, Duration.ofSeconds(60), TrialChannels.MIXED, Set.of()));
    /** The first one; the other has a secret. */
    private static final String BY_CERTIFICATE =
            PLAN.register().machines().get(0).gateway();

    @TempDir
    Path directory;

    private final StringWriter out = new StringWriter();
    private final StringWriter err = new StringWriter();

    private int simulate(String... arguments) {
        CommandLine line = RootCommand.commandLine();
        line.setOut(new PrintWriter(out)).setErr(new PrintWriter(err));
        return line.execute(arguments);
    }

    @Test
    void publish_overTls_withEachGatewaysKey_bringsEveryReading() throws Exception {
        TestCertificate certificate = TestCertificate.make(directory, "server");
        Path keys = Files.createDirectory(directory.resolve("keys"));
        Set<String> gateways = PLAN.register().machines().stream()
                .map(Machine::gateway)
                .collect(Collectors.toCollection(TreeSet::new));
        try (Server server = server(certificate)) {
            TestCertificate own = TestCertificate.make(keys, BY_CERTIFICATE);
            GatewayDesk desk = server.alerts().gateways();
            for (String gateway : gateways) {
                if (gateway.equals(BY_CERTIFICATE)) {
                    assertThat(desk.addCertificate("Tess", gateway, Files.readString(own.certificate())))
                            .isInstanceOf(Answer.Done.class);
                } else {
                    Answer<GatewayDesk.Made> made = desk.addSecret("Tess", gateway);
                    Files.writeString(
                            keys.resolve(gateway + ".secret"),
                            ((Answer.Done<GatewayDesk.Made>) made)
                                            .value()
                                            .secret()
                                            .orElseThrow() + "\n");
                }
            }
            assertThat(simulate(
                            "simulate",
                            "--trial",
                            "--sites",
                            "2",
                            "--days",
                            Integer.toString(DAYS),
                            "--faults",
                            "none",
                            "--past",
                            "1",
                            "--publish",
                            "mqtts://localhost:" + server.mqttPorts().get(1),
                            "--keys",
                            keys.toString(),
                            "--trust",
                            certificate.certificate().toString(),
                            "--out",
                            directory.resolve("fleet").toString()))
                    .as(err.toString())
                    .isEqualTo(ExitCode.OK);
            assertThat(out.toString()).contains("Published everything up to " + PLAN.to());
            assertThat(directory.resolve("fleet/machines.csv"))
                    .hasSameTextualContentAs(directory.resolve("machines.csv"));

            Instant from = PLAN.to().minus(Duration.ofDays(1));
            SimulatedFleet fleet = new SimulatedFleet(PLAN);
            for (SimulatedSite site : fleet.sites()) {
                site.advanceTo(from);
                assertThat(readings(server, site.site().id()))
                        .as(site.site().id())
                        .isEqualTo(site.advanceTo(PLAN.to()).readings().size())
                        .isGreaterThan(1000);
            }
        }
    }

    private static int readings(Server server, String site) {
        return new SiteLogReader(server.kafka())
                .read(site).stream()
                        .filter(SiteRecord.Pack.class::isInstance)
                        .mapToInt(
                                record -> ((SiteRecord.Pack) record).readings().size())
                        .sum();
    }

    private Server server(TestCertificate certificate) throws Exception {
        assertThat(simulate("simulate", "--out", directory.resolve("none").toString(), "--past", "1"))
                .as("--past is of --publish")
                .isEqualTo(CommandLine.ExitCode.USAGE);
        FleetFiles.writeRegister(PLAN, directory);
        return Server.start(
                new ServerSettings(
                        directory.resolve("data"),
                        Role.all(),
                        new ServerSettings.Address("127.0.0.1", 0),
                        new ServerSettings.Mqtt(
                                true,
                                new ServerSettings.Address("127.0.0.1", 0),
                                Optional.of(new IngestSettings.Secure(
                                        "127.0.0.1",
                                        0,
                                        new Listen.Tls(certificate.certificate(), certificate.key(), false))),
                                0,
                                Optional.empty()),
                        Optional.empty(),
                        ServerSettings.TopicShape.ONE_MACHINE,
                        Optional.empty(),
                        new ServerSettings.Files(
                                Optional.of(directory.resolve("machines.csv")),
                                Optional.of(directory.resolve("sites.csv")),
                                Optional.empty())),
                PLAN::to,
                Optional::empty,
                failure -> {});
    }

    @Test
    void publish_withoutAKeyOfAGateway_orInTheClear_isRefused_sayingWhatToDo() throws Exception {
        Path keys = Files.createDirectory(directory.resolve("keys"));
        for (List<String> wrong : List.of(
                List.of("mqtts://localhost:8883", "--keys", keys.toString()),
                List.of("mqtt://ice.example:1883", "--keys", keys.toString()),
                List.of(
                        "mqtt://localhost:1883",
                        "--trust",
                        keys.resolve("no.crt").toString()),
                List.of("https://localhost"),
                List.of("mqtts://user@localhost"))) {
            List<String> all = new ArrayList<>(List.of("simulate", "--until", UNTIL.toString(), "--publish"));
            all.addAll(wrong);
            assertThat(simulate(all.toArray(String[]::new)))
                    .as(wrong.toString())
                    .isEqualTo(ExitCode.WRONG_INPUT);
        }
        assertThat(err.toString())
                .contains(
                        "gw-harbour-hotel has no key in",
                        "./rimecast gateway add",
                        "for all to read: write mqtts://",
                        "does nothing without TLS",
                        "must be mqtt://host:port");
    }
}
