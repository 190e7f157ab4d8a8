package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.view.SiteCheckView;
import dev.rimecast.alerts.view.SiteLinkView;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/**
 * A link by which a site is asked.
 *
 * @param state {@code open}, {@code over}, {@code settled}, {@code ended} or {@code revoked}
 */
public record SiteLinkJson(
        UUID id,
        UUID caseId,
        String site,
        String machine,
        String madeBy,
        Instant madeAt,
        Instant endsAt,
        String state,
        Optional<String> revokedBy,
        Optional<String> mailedTo,
        List<AnsweredJson> answers,
        Optional<ReceiptJson> receipt) {

    /** What the site said. */
    public record AnsweredJson(String check, String about, String text, boolean putsRight, Instant at) {}

    /** What it brought. */
    public record ReceiptJson(AnsweredJson by, Instant overAt, int cycles, boolean visited) {}

    /** A new link with its secret, which is told once; of one that goes by mail only the mail has it. */
    public record MadeJson(Optional<String> secret, SiteLinkJson link) {}

    /**
     * What somebody on the site sees.
     *
     * @param state {@code asking}, {@code watching}, {@code over} or {@code settled}
     * @param most checks in one link
     * @param cycles complete cycles since something was put right, of {@code goodCycles} that show it
     */
    public record CheckJson(
            String state,
            String machine,
            String siteName,
            int number,
            int most,
            Optional<AskJson> check,
            List<AnsweredJson> answers,
            int cycles,
            int goodCycles,
            Optional<ReceiptJson> receipt,
            Instant endsAt) {}

    /** A check in plain words, with the answers to choose from. */
    public record AskJson(String id, String about, String ask, List<ChoiceJson> choices) {}

    /** An answer that can be given. */
    public record ChoiceJson(String answer, String text) {}

    public static SiteLinkJson of(SiteLinkView link) {
        return new SiteLinkJson(
                link.id(),
                link.caseId(),
                link.site(),
                link.machine(),
                link.madeBy(),
                link.madeAt(),
                link.endsAt(),
                link.state().code(),
                link.revokedBy(),
                link.mailedTo(),
                link.answers().stream().map(SiteLinkJson::answered).toList(),
                link.receipt().map(SiteLinkJson::receipt));
    }

    public static CheckJson of(SiteCheckView view) {
        return new CheckJson(
                view.state().code(),
                view.machine(),
                view.siteName(),
                view.number(),
                SiteCheckView.MOST_CHECKS,
                view.check()
                        .map(check -> new AskJson(
                                check.id(),
                                check.about(),
                                check.ask(),
                                check.choices().stream()
                                        .map(choice -> new ChoiceJson(choice.answer(), choice.words()))
                                        .toList())),
                view.answers().stream().map(SiteLinkJson::answered).toList(),
                view.cycles(),
                SiteCheckView.GOOD_CYCLES,
                view.receipt().map(SiteLinkJson::receipt),
                view.endsAt());
    }

    private static AnsweredJson answered(SiteLinkView.Answered answer) {
        return new AnsweredJson(answer.check(), answer.about(), answer.words(), answer.putsRight(), answer.at());
    }

    private static ReceiptJson receipt(SiteLinkView.Receipt receipt) {
        return new ReceiptJson(answered(receipt.by()), receipt.overAt(), receipt.cycles(), receipt.visited());
    }
}
