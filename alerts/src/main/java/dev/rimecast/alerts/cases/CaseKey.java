package dev.rimecast.alerts.cases;

/** What a case is about, as far as it decides who belongs to it. */
public sealed interface CaseKey {

    /** The text that its id is made of. */
    String text();

    /** Trouble of one machine, gateway or site. */
    record OfSubject(String subject) implements CaseKey {
        @Override
        public String text() {
            return "subject|" + subject;
        }
    }

    /**
     * Something that hits a place.
     *
     * @param common its name in {@code cases.yaml}
     * @param place room or gateway; empty for the whole site
     */
    record OfPlace(String common, String site, String place) implements CaseKey {
        @Override
        public String text() {
            return "place|" + common + '|' + site + '|' + place;
        }
    }
}
