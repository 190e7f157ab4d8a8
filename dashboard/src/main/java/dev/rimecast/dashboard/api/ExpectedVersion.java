package dev.rimecast.dashboard.api;

import dev.rimecast.dashboard.http.Problem;
import io.javalin.http.Context;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Which version somebody looked at who changes what has versions: their header {@code If-Match}, so that nobody overwrites unseen. */
final class ExpectedVersion {
    private static final Pattern STRONG_TAG = Pattern.compile("\"(\\d{1,9})\"");

    private ExpectedVersion() {}

    /** @param what that has the ETag, in the words of a problem, e.g. {@code the book} */
    static int of(Context ctx, String what) {
        String header = ctx.header("If-Match");
        if (header == null) {
            throw new Problem(
                            428,
                            "if-match-missing",
                            "Say which version you looked at",
                            "Send the ETag of " + what + " as the header If-Match.",
                            Map.of())
                    .asException();
        }
        Matcher tag = STRONG_TAG.matcher(header.strip());
        if (!tag.matches()) {
            throw Problem.badParameter("If-Match", "If-Match must be the ETag of " + what + ", such as \"3\"")
                    .asException();
        }
        return Integer.parseInt(tag.group(1));
    }
}
