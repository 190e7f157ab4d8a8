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
 * @param address what is asked, without {@code after}
 */
public record ListPage<P>(int limit, Optional<P> after, String address) {
    private static final String LIMIT = "limit";
    private static final String AFTER = "after";

    /** What names the next page (RFC 8288). */
    public static final String LINK = "Link";

    /** @param place what the text of {@code after} says; empty where it is none of ours */
    public static <P> ListPage<P> of(Context ctx, int otherwise, int most, Function<String, Optional<P>> place) {
        Optional<P> after = Query.text(ctx, AFTER)
                .map(text -> place.apply(text)
                        .orElseThrow(() -> Problem.badParameter(
                                        AFTER, AFTER + " must be as it is in the Link of an earlier answer")
                                .asException()));
        return new ListPage<>(Query.number(ctx, LIMIT, otherwise, 1, most), after, address(ctx));
    }

    /** How many to read: one more than are shown, which tells that there are more. */
    public int toRead() {
        return limit + 1;
    }

    /**
     * What is shown of what was read; says in the answer where there is more.
     *
     * @param place the text of {@code after} behind an entry
     */
    public <T> List<T> shown(Context ctx, List<T> read, Function<T, String> place) {
        next(read, place).ifPresent(link -> ctx.header(LINK, link));
        return shown(read);
    }

    /** What is shown of what was read. */
    public <T> List<T> shown(List<T> read) {
        return read.size() <= limit ? read : List.copyOf(read.subList(0, limit));
    }

    /** The header {@value #LINK} of an answer behind which there is more. */
    public <T> Optional<String> next(List<T> read, Function<T, String> place) {
        if (read.size() <= limit) {
            return Optional.empty();
        }
        String after = AFTER + '=' + encoded(place.apply(read.get(limit - 1)));
        return Optional.of('<' + address + (address.contains("?") ? '&' : '?') + after + ">; rel=\"next\"");
    }

    private static String address(Context ctx) {
        List<String> query = new ArrayList<>();
        for (Map.Entry<String, List<String>> given : ctx.queryParamMap().entrySet()) {
            if (!given.getKey().equals(AFTER)) {
                given.getValue().forEach(value -> query.add(encoded(given.getKey()) + '=' + encoded(value)));
            }
        }
        return query.isEmpty() ? ctx.path() : ctx.path() + '?' + String.join("&", query);
    }

    private static String encoded(String text) {
        return URLEncoder.encode(text, StandardCharsets.UTF_8);
    }
}
