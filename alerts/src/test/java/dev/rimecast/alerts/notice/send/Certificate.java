package dev.rimecast.alerts.notice.send;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyStore;
import javax.net.ssl.KeyManagerFactory;
import javax.net.ssl.SSLContext;
import javax.net.ssl.TrustManagerFactory;

/**
 * A self-made certificate for one name.
 *
 * @param store PKCS #12, with its key
 */
record Certificate(Path store) {
    static final String PASSWORD = "changeit";

    static Certificate of(String host, Path directory) throws IOException, InterruptedException {
        Path store = directory.resolve(host + ".p12");
        Process keytool = new ProcessBuilder(
                        Path.of(System.getProperty("java.home"), "bin", "keytool")
                                .toString(),
                        "-genkeypair",
                        "-alias",
                        "mail",
                        "-keyalg",
                        "EC",
                        "-dname",
                        "CN=" + host,
                        "-ext",
                        "SAN=dns:" + host,
                        "-storetype",
                        "PKCS12",
                        "-keystore",
                        store.toString(),
                        "-storepass",
                        PASSWORD)
                .inheritIO()
                .start();
        assertThat(keytool.waitFor()).isZero();
        return new Certificate(store);
    }

    private KeyStore keys() throws GeneralSecurityException, IOException {
        return KeyStore.getInstance(store.toFile(), PASSWORD.toCharArray());
    }

    /** Of a client that knows this one certificate; all else is as it always is. */
    SSLContext trusting() throws GeneralSecurityException, IOException {
        KeyStore trusted = KeyStore.getInstance("PKCS12");
        trusted.load(null, null);
        trusted.setCertificateEntry("mail", keys().getCertificate("mail"));
        TrustManagerFactory trust = TrustManagerFactory.getInstance(TrustManagerFactory.getDefaultAlgorithm());
        trust.init(trusted);
        SSLContext context = SSLContext.getInstance("TLS");
        context.init(null, trust.getTrustManagers(), null);
        return context;
    }

    /** Of the server that has it. */
    SSLContext serving() throws GeneralSecurityException, IOException {
        KeyManagerFactory keys = KeyManagerFactory.getInstance(KeyManagerFactory.getDefaultAlgorithm());
        keys.init(keys(), PASSWORD.toCharArray());
        SSLContext context = SSLContext.getInstance("TLS");
        context.init(keys.getKeyManagers(), null, null);
        return context;
    }
}
