package dev.rimecast.app.config;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyStore;
import java.util.ArrayList;
import java.util.Base64;
import java.util.List;

/** A pair of key and self-signed certificate for the name {@code localhost}, made by the JDK's {@code keytool}. */
public record TestCertificate(Path certificate, Path key) {
    private static final char[] PASSWORD = "changeit".toCharArray();

    /** @param extra options of {@code keytool}, such as {@code -startdate} */
    public static TestCertificate make(Path directory, String name, String... extra)
            throws IOException, InterruptedException, GeneralSecurityException {
        Path file = directory.resolve(name + ".p12");
        List<String> command = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "keytool").toString(),
                "-genkeypair",
                "-keyalg",
                "EC",
                "-groupname",
                "secp256r1",
                "-dname",
                "CN=" + name,
                "-ext",
                "san=dns:localhost",
                "-alias",
                "one",
                "-storetype",
                "PKCS12",
                "-storepass",
                "changeit",
                "-keystore",
                file.toString()));
        command.addAll(List.of(extra));
        Process process = new ProcessBuilder(command).redirectErrorStream(true).start();
        String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        if (process.waitFor() != 0) {
            throw new IOException("keytool failed: " + said);
        }
        KeyStore store = KeyStore.getInstance("PKCS12");
        try (InputStream in = Files.newInputStream(file)) {
            store.load(in, PASSWORD);
        }
        return new TestCertificate(
                pem(
                        directory.resolve(name + ".crt"),
                        "CERTIFICATE",
                        store.getCertificate("one").getEncoded()),
                pem(
                        directory.resolve(name + ".key"),
                        "PRIVATE KEY",
                        store.getKey("one", PASSWORD).getEncoded()));
    }

    private static Path pem(Path file, String kind, byte[] der) throws IOException {
        String base64 = Base64.getMimeEncoder(64, new byte[] {'\n'}).encodeToString(der);
        return Files.writeString(file, "-----BEGIN " + kind + "-----\n" + base64 + "\n-----END " + kind + "-----\n");
    }
}
