package dev.rimecast.alerts.view;

/** What a link of a site opens. The link itself is the only permission: nothing here knows an account. */
public interface SiteChecks {

    Outcome look(String secret);

    /** Answers the check that is asked now; of another one nothing is kept. */
    Outcome answer(String secret, String check, String answer);

    /**
     * Notes the ice of a harvest that somebody on the site weighed.
     *
     * @param kilograms as in an event {@code harvest-weighed}
     */
    Outcome weigh(String secret, String kilograms);

    /** What became of a request by link. */
    sealed interface Outcome {
        record Shown(SiteCheckView view) implements Outcome {}

        /** No link is like that. */
        record NoSuchLink() implements Outcome {}

        /** Its time is over, or it was revoked. */
        record Ended() implements Outcome {}

        /** Another check is asked by now, or that is none of its answers. */
        record Changed(SiteCheckView view) implements Outcome {}

        /** @param reason in words after "kilograms" */
        record NoWeight(String reason) implements Outcome {}
    }
}
