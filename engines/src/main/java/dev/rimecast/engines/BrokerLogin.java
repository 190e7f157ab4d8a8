package dev.rimecast.engines;

import java.util.List;
import java.util.Map;
import javax.security.auth.callback.Callback;
import javax.security.auth.callback.NameCallback;
import javax.security.auth.login.AppConfigurationEntry;
import org.apache.kafka.common.KafkaException;
import org.apache.kafka.common.security.auth.AuthenticateCallbackHandler;
import org.apache.kafka.common.security.scram.ScramCredential;
import org.apache.kafka.common.security.scram.ScramCredentialCallback;
import org.apache.kafka.common.security.scram.internals.ScramFormatter;
import org.apache.kafka.common.security.scram.internals.ScramMechanism;
import org.jspecify.annotations.Nullable;

/**
 * Knows the one user of the embedded broker, by the secret that its listener was configured with. Kafka's own handler looks into the
 * metadata, where the user would have to be before the controller has started, and is not in directories of earlier versions.
 *
 * <p>SCRAM (RFC 5802) sends no password, so a program that sits on the port while the broker is down learns none.
 */
public final class BrokerLogin implements AuthenticateCallbackHandler {
    /** As many rounds as RFC 7677 asks for at least; the secret is random, so more of them would guard nothing. */
    private static final int ROUNDS = 4096;

    private @Nullable String user;
    private @Nullable ScramCredential credential;

    /** For Kafka, which makes one for each listener. */
    public BrokerLogin() {}

    @Override
    public void configure(Map<String, ?> configs, String mechanism, List<AppConfigurationEntry> entries) {
        Map<String, ?> options = entries.get(0).getOptions();
        try {
            user = String.valueOf(options.get("username"));
            credential = new ScramFormatter(ScramMechanism.forMechanismName(mechanism))
                    .generateCredential(String.valueOf(options.get("password")), ROUNDS);
        } catch (java.security.NoSuchAlgorithmException e) {
            throw new KafkaException("this Java platform lacks " + mechanism, e);
        }
    }

    @Override
    public void handle(Callback[] callbacks) {
        boolean isOurs = false;
        for (Callback callback : callbacks) {
            if (callback instanceof NameCallback name) {
                isOurs = name.getDefaultName().equals(user);
            } else if (callback instanceof ScramCredentialCallback scram && isOurs) {
                scram.scramCredential(credential);
            }
        }
    }

    @Override
    public void close() {}
}
