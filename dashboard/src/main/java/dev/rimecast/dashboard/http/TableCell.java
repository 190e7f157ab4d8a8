package dev.rimecast.dashboard.http;

import java.util.regex.Pattern;

/**
 * A cell of a table that people open with a spreadsheet. What somebody typed must not run there as a formula: text that
 * begins as one gets an apostrophe before it (OWASP, CSV Injection; ASVS 5.0, 1.2.10, number from memory). Numbers stay as
 * they are.
 */
final class TableCell {
    private static final String BEGINS_FORMULA = "=+-@\t\r\n";
    private static final Pattern NUMBER = Pattern.compile("[+-]?[0-9]+(\\.[0-9]+)?");

    private TableCell() {}

    static String safe(String text) {
        boolean isFormula = !text.isEmpty() && BEGINS_FORMULA.indexOf(text.charAt(0)) >= 0;
        return isFormula && !NUMBER.matcher(text).matches() ? '\'' + text : text;
    }
}
