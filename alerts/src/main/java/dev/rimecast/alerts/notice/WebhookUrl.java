package dev.rimecast.alerts.notice;

import java.net.URI;
import java.net.URISyntaxException;
import java.util.Locale;
import java.util.Optional;

/** What the address of a webhook may be. Whether it leads inside is looked at when it is called: a name may lead elsewhere by then. */
public final class WebhookUrl {
    private static final int LARGEST_PORT = 65_535;

    private WebhookUrl() {}

    /**
     * What is wrong with it, for whoever wrote it; empty: nothing.
     *
     * @param allowsPrivate whether receivers may stand on the firm's own network, and be spoken to in the clear
     */
    public static Optional<String> wrong(String text, boolean allowsPrivate) {
        URI url;
        try {
            url = new URI(text);
        } catch (URISyntaxException e) {
            return Optional.of("is no address: " + e.getReason());
        }
        if (url.getHost() == null || url.getScheme() == null) {
            return Optional.of("must be an address such as https://desk.example/notices");
        }
        String scheme = url.getScheme().toLowerCase(Locale.ROOT);
        if (!scheme.equals("https") && !(scheme.equals("http") && allowsPrivate)) {
            return Optional.of("must begin with https://; http:// is for a private network, with"
                    + " webhook.private-addresses: true");
        }
        if (url.getPort() == 0 || url.getPort() > LARGEST_PORT) {
            return Optional.of("has a port that there is not: 1 to " + LARGEST_PORT);
        }
        return url.getUserInfo() == null && url.getFragment() == null
                ? Optional.empty()
                : Optional.of("must hold no user and no fragment: what is secret goes into secret-files");
    }
}
