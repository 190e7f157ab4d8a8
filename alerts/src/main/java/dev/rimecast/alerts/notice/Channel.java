package dev.rimecast.alerts.notice;

import java.net.URI;
import java.util.List;

/** How a receiver is reached. */
public sealed interface Channel {

    /** One word, e.g. {@code mail}. */
    String word();

    /** Where to, as a page may show it: no secret in it. */
    String target();

    /** A mail address. */
    record Mail(String address) implements Channel {
        @Override
        public String word() {
            return "mail";
        }

        @Override
        public String target() {
            return address;
        }
    }

    /**
     * A CloudEvent over HTTP.
     *
     * @param secrets the first signs; a second one signs, too, while the receiver changes over
     */
    record Webhook(URI url, List<WebhookSecret> secrets) implements Channel {
        public Webhook {
            secrets = List.copyOf(secrets);
            if (secrets.isEmpty() || secrets.size() > 2) {
                throw new IllegalArgumentException("a webhook has one secret, or two while it changes");
            }
        }

        @Override
        public String word() {
            return "webhook";
        }

        /** Without the query, which may hold a token. */
        @Override
        public String target() {
            String port = url.getPort() < 0 ? "" : ":" + url.getPort();
            return url.getScheme() + "://" + url.getHost() + port + url.getPath();
        }
    }

    /** Nowhere: the notice is kept and shown on the page, and counts as sent. */
    record OutboxOnly() implements Channel {
        @Override
        public String word() {
            return "outbox-only";
        }

        @Override
        public String target() {
            return "kept here, sent nowhere";
        }
    }
}
