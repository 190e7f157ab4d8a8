package dev.rimecast.app.command;

import dev.rimecast.simulator.gateway.GatewayLines;
import java.net.URI;
import java.nio.file.Path;
import java.util.Optional;
import picocli.CommandLine.Option;

/** Where simulated gateways publish, and with which keys. */
final class PublishOptions {
    @Option(
            names = "--publish",
            required = true,
            paramLabel = "URL",
            description =
                    "Has the fleet's gateways publish to a running server or broker over MQTT 5: mqtts://HOST:PORT for"
                            + " TLS, mqtt://HOST:PORT in the clear. The past goes first, as fast as it has its receipts; then,"
                            + " without --until or --trial, it goes on in real time until Ctrl-C. The server needs"
                            + " machines.csv and sites.csv, which --out writes.")
    URI server = URI.create("mqtt://localhost:1883");

    @Option(
            names = "--keys",
            paramLabel = "DIR",
            description = "The gateways' keys: GATEWAY.secret with the secret that ./rimecast gateway add printed, or"
                    + " GATEWAY.crt and GATEWAY.key in PEM, the certificate that the gateway was added with.")
    Optional<Path> keys = Optional.empty();

    @Option(
            names = "--trust",
            paramLabel = "FILE",
            description =
                    "The certificate that signed the server's, or the server's own, in PEM (default: whom Java trusts)."
                            + " The name in the server's certificate must be HOST.")
    Optional<Path> trust = Optional.empty();

    @Option(
            names = "--past",
            paramLabel = "DAYS",
            description = "How many of the last days to publish (default: all there are).")
    Optional<Integer> pastDays = Optional.empty();

    /** @throws InputException if the options contradict each other */
    GatewayLines lines() {
        if (pastDays.filter(days -> days < 0).isPresent()) {
            throw new InputException("--past must be 0 or more days, was " + pastDays.get());
        }
        try {
            return new GatewayLines(server, trust, keys);
        } catch (IllegalArgumentException e) {
            throw new InputException("--publish: " + e.getMessage());
        }
    }
}
