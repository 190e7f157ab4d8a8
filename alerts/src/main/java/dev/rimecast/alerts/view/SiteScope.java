package dev.rimecast.alerts.view;

import java.util.Collection;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;

/**
 * The sites that somebody may see.
 *
 * @param isEvery every site, those of tomorrow, too
 * @param sites which ones; empty where it is every site
 */
public record SiteScope(boolean isEvery, Set<String> sites) {
    public static final SiteScope EVERY = new SiteScope(true, Set.of());

    public SiteScope {
        sites = Set.copyOf(sites);
        if (isEvery && !sites.isEmpty()) {
            throw new IllegalArgumentException("a scope is every site or names some, not both");
        }
    }

    public static SiteScope of(Collection<String> sites) {
        return new SiteScope(false, Set.copyOf(sites));
    }

    public boolean includes(String site) {
        return isEvery || sites.contains(site);
    }

    /** Whether everything of {@code other} is in this one. */
    public boolean includes(SiteScope other) {
        return isEvery || (!other.isEvery && sites.containsAll(other.sites));
    }

    /** What is in both. */
    public SiteScope and(SiteScope other) {
        if (isEvery) {
            return other;
        }
        if (other.isEvery) {
            return this;
        }
        Set<String> both = new TreeSet<>(sites);
        both.retainAll(other.sites);
        return of(both);
    }

    /** Its sites, or nothing where it is every site. */
    public Optional<Set<String>> limit() {
        return isEvery ? Optional.empty() : Optional.of(sites);
    }
}
