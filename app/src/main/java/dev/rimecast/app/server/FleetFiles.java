package dev.rimecast.app.server;

import dev.rimecast.alerts.AlertsStage;
import dev.rimecast.alerts.register.RegisterImport;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.telemetry.file.RegisterFiles;
import dev.rimecast.telemetry.machine.Register;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.time.Duration;
import java.util.Locale;
import java.util.zip.CRC32;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Brings register and policy in at the start; what has changed since the last time goes into the sites' logs. */
record FleetFiles(ServerSettings.Files files) {
    private static final Logger LOG = LoggerFactory.getLogger(FleetFiles.class);
    /** A Kafka that is slow to answer is no reason not to start. */
    private static final Duration TOLD = Duration.ofSeconds(20);

    /** Reads the files, so that a mistake in them stops the start before anything runs. */
    Fleet read() {
        try {
            Policy policy = files.policy().isPresent()
                    ? Policy.parse(
                            files.policy().get().toString(),
                            Files.readString(files.policy().get()))
                    : Policy.standard();
            Register register = files.register().isPresent()
                    ? RegisterFiles.read(files.register().get(), files.sites())
                    : Register.EMPTY;
            return new Fleet(
                    register,
                    policy,
                    files.register().isPresent(),
                    files.policy().isPresent());
        } catch (IOException e) {
            throw new StartException("a file of the fleet can't be read: " + e.getMessage(), e);
        }
    }

    /**
     * What the files say.
     *
     * @param hasRegister false where no file was named: what is known then stays as it is
     * @param hasPolicy false where no file was named, and the policy is the product's
     */
    record Fleet(Register register, Policy policy, boolean hasRegister, boolean hasPolicy) {

        /** The policy's name and a mark of its text: a changed text, also of a new release, is a version of its own. */
        private String versionOfText() {
            CRC32 mark = new CRC32();
            mark.update(policy.yaml().getBytes(StandardCharsets.UTF_8));
            return policy.version() + String.format(Locale.ROOT, "-%08x", mark.getValue());
        }

        /** @param isIngestNext whether ingest starts after this in the same process, and must find the register in Kafka */
        void bringInto(AlertsStage alerts, boolean isIngestNext) {
            RegisterImport imports = alerts.registerImport();
            var brought = new RegisterImport.Brought(versionOfText(), policy.yaml(), hasPolicy);
            RegisterImport.Result result = hasRegister ? imports.apply(register, brought) : imports.apply(brought);
            LOG.info(
                    "register: {} machines and {} sites changed{}",
                    result.machines(),
                    result.sites(),
                    result.policyActivated() ? ", policy " + policy.version() + " activated" : "");
            int claimed = alerts.claims().list().size();
            if (claimed > 0 && hasRegister) {
                LOG.info("register: {} claimed machines, which the file does not name, stay", claimed);
            }
            alerts.policies()
                    .current()
                    .filter(inForce -> !inForce.yaml().equals(policy.yaml()))
                    .ifPresent(inForce -> LOG.info(
                            "policy {}, which {} put into force on {}, stays: it is newer than {}",
                            inForce.version(),
                            inForce.who(),
                            inForce.at(),
                            hasPolicy ? "its file" : "the product's"));
            if (isIngestNext) {
                awaitTold(alerts);
            }
        }

        /** What comes of a machine that is not in Kafka's register yet would be laid aside. */
        private static void awaitTold(AlertsStage alerts) {
            try {
                if (!alerts.awaitRegisterTold(TOLD)) {
                    LOG.warn(
                            "Kafka does not have the register yet: what machines say that are not in it waits as unclaimed");
                }
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
            }
        }
    }
}
