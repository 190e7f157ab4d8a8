package dev.rimecast.alerts.view;

/** What people write in a line or a note: letters, digits, signs, tabs and line ends of any script. */
public final class Writing {
    /** What is said of a text that can't be kept, after its name. */
    public static final String WRONG = "has control characters, or half of a character: leave them out";

    private Writing() {}

    /** Whether it comes back from the database as it went in: PostgreSQL takes no zero, UTF-8 no half of a pair. */
    public static boolean canBeKept(String text) {
        return text.codePoints().allMatch(Writing::canBeKept);
    }

    private static boolean canBeKept(int codePoint) {
        boolean isLayout = codePoint == '\n' || codePoint == '\r' || codePoint == '\t';
        return (isLayout || !Character.isISOControl(codePoint)) && Character.getType(codePoint) != Character.SURROGATE;
    }
}
