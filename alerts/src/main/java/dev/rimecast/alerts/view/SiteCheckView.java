package dev.rimecast.alerts.view;

import dev.rimecast.alerts.view.SiteLinkView.Answered;
import dev.rimecast.alerts.view.SiteLinkView.Receipt;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * What somebody on the site sees by a link: one machine, no other, and nobody's name.
 *
 * @param number of the check, from 1
 * @param check what is asked now
 * @param cycles complete cycles since something was put right
 */
public record SiteCheckView(
        State state,
        String machine,
        String siteName,
        int number,
        Optional<Check> check,
        List<Answered> answers,
        int cycles,
        Optional<Receipt> receipt,
        Instant endsAt) {
    /** At most so many checks in one link. */
    public static final int MOST_CHECKS = 3;
    /** So many good cycles show that something was put right. */
    public static final int GOOD_CYCLES = 3;

    /** How it stands. */
    public enum State {
        /** A check is asked for. */
        ASKING,
        /** Nothing is asked any more; the machine is watched. */
        WATCHING,
        OVER,
        SETTLED;

        public String code() {
            return name().toLowerCase(Locale.ROOT);
        }
    }

    public SiteCheckView {
        answers = List.copyOf(answers);
    }

    /** A check in plain words. */
    public record Check(String id, String about, String ask, List<Choice> choices) {
        public Check {
            choices = List.copyOf(choices);
        }
    }

    /** An answer that can be given. */
    public record Choice(String answer, String words, boolean putsRight) {}
}
