package dev.rimecast.ingest.kafka.letters;

import dev.rimecast.ingest.kafka.letters.DeadLetter.Source;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.machine.Ids;
import java.time.temporal.ChronoUnit;
import java.util.Optional;
import java.util.Set;

/**
 * What taking a dead letter again means. A record of a site's log goes to the end of that log, since the log alone gives every decision;
 * so only what has a time and an identity of its own may: packs and events. What says how things stand from here on must not
 * come behind what was said since. What analytics had decided is not decided again: the database takes it, which knows by
 * revision what is older.
 */
sealed interface Retake {
    /** What the record is, for a person; empty where nobody can read it or it is text. */
    String content();

    /** To the end of the site's log. */
    record ToSite(String content, String site, SiteRecord entry) implements Retake {}

    /** The stage {@code alerts} takes it into the database. */
    record ToDatabase(String content) implements Retake {}

    /** @param why not, and what to do instead */
    record Impossible(String content, String why) implements Retake {}

    /** Topics of what analytics has decided. */
    Set<String> DECIDED = Set.of(Topics.FINDINGS, Topics.CYCLES, Topics.PROOFS);

    static Retake of(Source source, String key, byte[] value) {
        if (source.topic().equals(Topics.SITES)) {
            return ofSite(key, value);
        }
        return source.stage().equals("alerts") && DECIDED.contains(source.topic())
                ? new ToDatabase("")
                : new Impossible("", "It does not say where it came from: nobody would take it.");
    }

    private static Retake ofSite(String site, byte[] value) {
        SiteRecord entry;
        try {
            entry = SiteLogCodec.decode(value);
        } catch (IllegalArgumentException e) {
            return new Impossible(
                    "",
                    "This version can't read it either (" + e.getMessage()
                            + "). Install one that can, then try again.");
        }
        String content = content(entry);
        String instead = instead(entry);
        if (!instead.isEmpty()) {
            return new Impossible(content, instead);
        }
        if (!Ids.isLegal(site)) {
            return new Impossible(content, "Its key is no site's identifier: no site would take it.");
        }
        // Its number was passed over when it did not come, and a passed number counts as seen.
        return entry instanceof SiteRecord.Pack pack
                ? new ToSite(
                        content,
                        site,
                        new SiteRecord.Pack(
                                pack.gateway(), Optional.empty(), pack.receivedAt(), pack.readings(), pack.rejected()))
                : new ToSite(content, site, entry);
    }

    /** Empty for what may be taken again. */
    private static String instead(SiteRecord entry) {
        if (entry instanceof SiteRecord.Tick) {
            return "A minute that has passed can't pass again. The next one does the same.";
        }
        if (entry instanceof SiteRecord.Registered
                || entry instanceof SiteRecord.Unregistered
                || entry instanceof SiteRecord.SiteChanged) {
            return "A row of the register may have been changed since. Change the row and change it back, so that it comes anew.";
        }
        if (entry instanceof SiteRecord.PolicyActivated) {
            return "Another policy may be in force since. Put it in force again on the page of thresholds.";
        }
        if (entry instanceof SiteRecord.WeatherExpected) {
            return "Newer weather may have come since. Send the weather again.";
        }
        return entry instanceof SiteRecord.Presence
                ? "The gateway may have come or gone since. Its next connection says how it is."
                : "";
    }

    private static String content(SiteRecord entry) {
        if (entry instanceof SiteRecord.Pack pack) {
            return "pack of gateway " + pack.gateway() + ", received " + pack.receivedAt() + ", "
                    + pack.readings().size() + " readings";
        }
        if (entry instanceof SiteRecord.Happened event) {
            return "event " + event.kind().code() + " at " + event.at()
                    + event.machine().map(machine -> " of machine " + machine).orElse("");
        }
        if (entry instanceof SiteRecord.Registered row) {
            return "row of machine " + row.machine().id();
        }
        if (entry instanceof SiteRecord.Unregistered row) {
            return "end of the row of machine " + row.machine();
        }
        if (entry instanceof SiteRecord.SiteChanged row) {
            return "row of site " + row.site().id();
        }
        if (entry instanceof SiteRecord.PolicyActivated policy) {
            return "policy " + policy.version();
        }
        if (entry instanceof SiteRecord.WeatherExpected weather) {
            return "weather of " + weather.days().size() + " days";
        }
        if (entry instanceof SiteRecord.Presence presence) {
            return "presence of gateway " + presence.gateway();
        }
        return "minute of " + ((SiteRecord.Tick) entry).at().truncatedTo(ChronoUnit.MINUTES);
    }
}
