package dev.rimecast.app.server;

import java.io.IOException;
import java.io.InputStream;
import java.util.Properties;

/** The version that was built. */
public final class Version {
    private Version() {}

    public static String text() {
        try (InputStream in = Version.class.getResourceAsStream("/dev/rimecast/app/version.properties")) {
            Properties properties = new Properties();
            properties.load(in);
            return properties.getProperty("version", "unknown");
        } catch (IOException e) {
            return "unknown";
        }
    }
}
