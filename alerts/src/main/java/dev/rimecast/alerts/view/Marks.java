package dev.rimecast.alerts.view;

import java.util.List;
import java.util.Optional;
import java.util.UUID;

/**
 * What analysts say of machines' past, against which back-tests hold alerts. Nothing of it changes an alert. Safe for many
 * threads.
 */
public interface Marks {
    /**
     * Every mark, also those that count no longer.
     *
     * @param sites only those of these sites
     * @param machine only those of this machine
     * @return the newest first
     */
    List<Mark> list(SiteScope sites, Optional<String> machine, int limit);

    /** Those that count, in the order in which they were made. */
    List<Mark> standing(SiteScope sites);

    /**
     * Keeps a mark.
     *
     * @return empty if its site is none of these
     */
    Optional<Mark> add(SiteScope sites, Mark.Said said, Person who);

    /**
     * Lets a mark count no longer.
     *
     * @return false if there is no such mark that counts on these sites
     */
    boolean withdraw(SiteScope sites, UUID mark, Person who);
}
