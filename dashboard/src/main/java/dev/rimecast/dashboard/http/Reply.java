package dev.rimecast.dashboard.http;

import dev.rimecast.telemetry.file.csv.CsvOutput;
import io.javalin.http.Context;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.InstantSource;
import java.util.List;
import java.util.function.Supplier;
import tools.jackson.databind.json.JsonMapper;

/** Sends payloads: entity tags, packing, and the product's time in a header of every answer. */
public final class Reply {
    /** The product's own clock, which pages count from: never their own. */
    public static final String TIME_HEADER = "Rimecast-Time";

    private final JsonMapper json;
    private final InstantSource clock;

    public Reply(JsonMapper json, InstantSource clock) {
        this.json = json;
        this.clock = clock;
    }

    public Payload payload(Object body) {
        return Payload.passing(json.writeValueAsBytes(body));
    }

    /** JSON that a client may keep, but must ask about before it uses it again. */
    public void json(Context ctx, Object body) {
        json(ctx, payload(body));
    }

    public void json(Context ctx, Payload payload) {
        ctx.header(TIME_HEADER, clock.instant().toString());
        ctx.header("Cache-Control", "private, no-cache");
        send(ctx, payload, "application/json");
    }

    /**
     * JSON of something that is changed by its version: not to be kept, and with a tag of its own to be sent back as
     * {@code If-Match} (RFC 9110, 13.1.1). Never packed, so that the tag is a strong one.
     */
    public void versioned(Context ctx, Object body, int version) {
        ctx.header(TIME_HEADER, clock.instant().toString());
        ctx.header("Cache-Control", "no-store");
        ctx.header("ETag", "\"" + version + '"');
        ctx.contentType("application/json");
        ctx.result(json.writeValueAsBytes(body));
    }

    /** A table to be saved under that name (RFC 4180); no cell of it is a formula. */
    public void csv(Context ctx, String name, List<String> columns, List<List<String>> rows) {
        StringWriter text = new StringWriter();
        try (CsvOutput out = new CsvOutput(text, columns)) {
            for (List<String> row : rows) {
                out.row(row.stream().map(TableCell::safe).toList());
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        ctx.header(TIME_HEADER, clock.instant().toString());
        ctx.header("Cache-Control", "private, no-cache");
        ctx.header("Content-Disposition", "attachment; filename=\"" + name + '"');
        send(ctx, Payload.passing(text.toString().getBytes(StandardCharsets.UTF_8)), "text/csv; charset=utf-8");
    }

    /**
     * A picture that never changes, to be shown in its place, not saved; whoever has it already is told so before it is read.
     *
     * @param hash of its bytes
     */
    public void picture(Context ctx, String type, String name, String hash, Supplier<byte[]> bytes) {
        String tag = '"' + hash + '"';
        ctx.header(TIME_HEADER, clock.instant().toString());
        ctx.header("Cache-Control", "private, no-cache");
        ctx.header("Content-Disposition", "inline; filename=\"" + name + '"');
        ctx.header("ETag", tag);
        if (matches(ctx.header("If-None-Match"), tag)) {
            ctx.status(304);
            return;
        }
        ctx.contentType(type);
        ctx.result(bytes.get());
    }

    /** A calendar (RFC 5545); a program that has the same one already is told so. */
    public void calendar(Context ctx, String text) {
        ctx.header("Cache-Control", "private, no-cache");
        ctx.header("Referrer-Policy", "no-referrer");
        send(ctx, Payload.passing(text.getBytes(StandardCharsets.UTF_8)), "text/calendar; charset=utf-8");
    }

    static void send(Context ctx, Payload payload, String contentType) {
        ctx.header("ETag", payload.entityTag());
        ctx.header("Vary", "Accept-Encoding");
        if (matches(ctx.header("If-None-Match"), payload.entityTag())) {
            ctx.status(304);
            return;
        }
        ctx.contentType(contentType);
        String accepts = ctx.header("Accept-Encoding");
        if (payload.worthPacking() && accepts != null && accepts.contains("gzip")) {
            ctx.header("Content-Encoding", "gzip");
            ctx.result(payload.packed());
        } else {
            ctx.result(payload.bytes());
        }
    }

    private static boolean matches(@org.jspecify.annotations.Nullable String header, String tag) {
        return header != null && (header.equals("*") || header.contains(tag));
    }
}
