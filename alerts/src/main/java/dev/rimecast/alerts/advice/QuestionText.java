package dev.rimecast.alerts.advice;

import dev.rimecast.telemetry.finding.Inquiry;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * A question in plain words.
 *
 * @param who {@code site}, {@code operator} or {@code engineer}
 * @param about what it is about, in a few words
 * @param opensPanel whether the cautions for covers apply; never for the site
 * @param needsRunning whether only a machine that makes ice can answer it
 * @param putsRight answers that say that something was found and put right
 * @param answers by code, in the order in which they are offered, without the one that is always there
 */
public record QuestionText(
        String id,
        String who,
        String about,
        String ask,
        boolean opensPanel,
        boolean needsRunning,
        Set<String> putsRight,
        Map<String, String> answers) {
    private static final String CANNOT_TELL = "can't tell";
    private static final String STILL_NO_ICE = "there is still no ice";

    public QuestionText {
        putsRight = Set.copyOf(putsRight);
        answers = Collections.unmodifiableMap(new LinkedHashMap<>(answers));
    }

    public boolean isForSite() {
        return who.equals("site");
    }

    /** The words of an answer, if there is such an answer. */
    public Optional<String> answer(String code) {
        return switch (code) {
            case Inquiry.CANNOT_TELL -> Optional.of(CANNOT_TELL);
            case Inquiry.STILL_NO_ICE -> Optional.of(STILL_NO_ICE);
            default -> Optional.ofNullable(answers.get(code));
        };
    }
}
