package dev.rimecast.alerts;

import dev.rimecast.alerts.keep.Retention;
import dev.rimecast.alerts.notice.NoticeBook;
import dev.rimecast.alerts.people.FactorRule;
import dev.rimecast.alerts.store.DatabaseLogin;
import dev.rimecast.alerts.visits.VisitMeans;
import java.time.Duration;
import java.util.Map;
import java.util.Optional;

/**
 * How the stage reaches Kafka and its database.
 *
 * @param kafka properties for every Kafka client; at least {@code bootstrap.servers}; {@code group.instance.id} where
 *     there are several instances
 * @param database where it is, and as whom
 * @param notices who is told of what; where it is absent nobody reads the events
 * @param visits who can be sent, what takes time to come, and how planning weighs it
 * @param poolSize connections to the database, at least 4: one for each topic and one for the rest
 * @param siteLinkLasts how long a site can answer by a link
 * @param secondFactor whose accounts must have one
 * @param retention how long what comes without end is kept
 */
public record AlertsSettings(
        Map<String, String> kafka,
        DatabaseLogin database,
        int poolSize,
        Optional<NoticeBook> notices,
        Duration siteLinkLasts,
        Retention retention,
        VisitMeans visits,
        FactorRule secondFactor) {
    /** How long a link of a site works where nothing else is said. */
    public static final Duration SITE_LINK_LASTS = Duration.ofHours(48);

    /** Without notices: what happened to alerts is kept for another reader. */
    public AlertsSettings(Map<String, String> kafka, DatabaseLogin database, int poolSize) {
        this(
                kafka,
                database,
                poolSize,
                Optional.empty(),
                SITE_LINK_LASTS,
                Retention.STANDARD,
                VisitMeans.STANDARD,
                FactorRule.OPTIONAL);
    }

    public AlertsSettings {
        kafka = Map.copyOf(kafka);
        if (!kafka.containsKey("bootstrap.servers")) {
            throw new IllegalArgumentException("kafka lacks bootstrap.servers");
        }
        if (siteLinkLasts.isNegative() || siteLinkLasts.isZero()) {
            throw new IllegalArgumentException("siteLinkLasts must be above 0, was " + siteLinkLasts);
        }
        if (poolSize < 4) {
            throw new IllegalArgumentException("poolSize must be at least 4, was " + poolSize);
        }
    }

    /** Whether other instances work on the same database: then what only one may do at a time waits for its turn. */
    public boolean isOneOfSeveral() {
        return kafka.containsKey("group.instance.id");
    }

    /** Without secrets. */
    @Override
    public String toString() {
        return "AlertsSettings[" + kafka.get("bootstrap.servers") + ", " + database.jdbcUrl() + ", pool of " + poolSize
                + ']';
    }
}
