package dev.rimecast.alerts.view;

import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * A recommendation: what the site can check first, what an engineer checks in order, parts, cautions, and by when.
 *
 * @param about code of the cause, or of the condition where no cause can be told
 * @param siteChecks plain words, no tools
 * @param engineerChecks in order
 * @param panelCautions those of every open cover, whether or not a check here opens one: a question beside it may
 * @param parts what is usually carried for it
 * @param neededParts those of them without which a visit is pointless
 * @param latestDate act by then, where it can be said
 * @param deferTo codes and licensed practice that go before this text
 */
public record Advice(
        String about,
        String headline,
        List<SiteCheck> siteChecks,
        List<EngineerCheck> engineerChecks,
        List<String> parts,
        List<String> neededParts,
        int minutes,
        List<String> skills,
        List<String> cautions,
        List<String> panelCautions,
        List<String> deferTo,
        Optional<Instant> latestDate) {

    /**
     * One thing that the site can look at or do.
     *
     * @param ask plain words
     * @param needsRunning whether only a machine that makes ice can answer it
     */
    public record SiteCheck(String ask, Told told, boolean needsRunning) {}

    /** What a site's answer to a check tells. */
    public enum Told {
        /** Something can be put right by hand, and may have been. */
        MENDED,
        /** It is so, or it is not. */
        YES_OR_NO,
        /** Somebody has looked. */
        LOOKED
    }

    /**
     * One thing to look at.
     *
     * @param check what to do
     * @param expect what a good machine shows, with units
     * @param opensPanel whether the cautions for covers apply
     */
    public record EngineerCheck(String check, String expect, boolean opensPanel) {}
}
