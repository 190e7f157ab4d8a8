package dev.rimecast.dashboard.http;

import io.javalin.http.Context;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;

/**
 * One page of a list. Where there is more behind it, the answer has the address of the next one in a header
 * {@code Link} with {@code rel="next"} (RFC 8288): the same question, with {@code after}.
 *
 * @param limit how many entries the page has at most
 * @param after where the page before it ended; empty for the first
 */
public record ListPage<P>(int limit, Optional<P> after) {
    private static final String LIMIT = "limit";
    private static final String AFTER = "after";

    /** @param place what the text of {@code after} says; empty where it is none of ours */
    public static <P> ListPage<P> of(Context ctx, int otherwise, int most, Function<String, Optional<P>> place) {
        Optional<P> after = Query.text(ctx, AFTER)
                .map(text -> place.apply(text)
                        .orElseThrow(() -> Problem.badParameter(
                                        AFTER, AFTER + " must be as it is in the Link of an earlier answer")
                                .asException()));
        return new ListPage<>(Query.number(ctx, LIMIT, otherwise, 1, most), after);
    }

    /** How many to read: one more than are shown, which tells that there are more. */
    public int toRead() {
        return limit + 1;
    }

    /**
     * What is shown of what was read.
     *
     * @param place the text of {@code after} behind an entry
     */
    public <T> List<T> shown(Context ctx, List<T> read, Function<T, String> place) {
        if (read.size() <= limit) {
            return read;
        }
        ctx.header("Link", '<' + next(ctx, place.apply(read.get(limit - 1))) + ">; rel=\"next\"");
        return List.copyOf(read.subList(0, limit));
    }

    private static String next(Context ctx, String after) {
        List<String> query = new ArrayList<>();
        for (Map.Entry<String, List<String>> given : ctx.queryParamMap().entrySet()) {
            if (!given.getKey().equals(AFTER)) {
                given.getValue().forEach(value -> query.add(encoded(given.getKey()) + '=' + encoded(value)));
            }
        }
        query.add(AFTER + '=' + encoded(after));
        return ctx.path() + '?' + String.join("&", query);
    }

    private static String encoded(String text) {
        return URLEncoder.encode(text, StandardCharsets.UTF_8);
    }
}
