package dev.rimecast.dashboard.http;

import io.javalin.http.Context;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * The files of the pages, read once at start. Only those of the list exist, so no path can lead anywhere else. Their
 * address holds a hash of them all: it changes with any of them, so that browsers may keep them for ever.
 */
public final class Assets {
    private static final String OWN = "/dev/rimecast/dashboard/web/";
    private static final String WEBJARS = "/META-INF/resources/webjars/";

    /** Keeps the pages of work at hand without a connection. */
    private static final String WORKER = "work-worker.js";

    private record Asset(Payload payload, String type) {}

    private final Map<String, Asset> assets = new LinkedHashMap<>();
    private final String version;

    /** @throws IllegalStateException if a file of the list is missing from the jar */
    public Assets() {
        ByteArrayOutputStream all = new ByteArrayOutputStream();
        new String(read(OWN + "assets.list"), StandardCharsets.UTF_8)
                .lines()
                .filter(line -> !line.isBlank() && !line.startsWith("#"))
                .forEach(line -> add(line, all));
        version = Payload.hash(all.toByteArray());
    }

    /** A line is a file of ours, or {@code name = path in a webjar}. */
    private void add(String line, ByteArrayOutputStream all) {
        String[] parts = line.split("\\s*=\\s*", 2);
        String name = parts[0].strip();
        byte[] bytes = read(parts.length == 2 ? WEBJARS + parts[1].strip() : OWN + name);
        all.writeBytes(name.getBytes(StandardCharsets.UTF_8));
        all.writeBytes(bytes);
        assets.put(name, new Asset(Payload.fixed(bytes), type(name)));
    }

    /** What the address of every file begins with. */
    public String base() {
        return "/assets/" + version + '/';
    }

    /** Serves {@code /assets/{version}/<name>}. */
    public void handle(Context ctx) {
        String name = ctx.pathParam("name");
        Asset asset = assets.get(name);
        if (asset == null || !ctx.pathParam("version").equals(version)) {
            throw Problem.notFound("No such file.").asException();
        }
        if (name.equals(WORKER)) {
            // A worker may look after pages below its own address only, unless its answer names another one. It
            // registers
            // for /work-report/ and /commissioning/; no longer prefix is common to both.
            ctx.header("Service-Worker-Allowed", "/");
        }
        ctx.header("Cache-Control", "public, max-age=31536000, immutable");
        Reply.send(ctx, asset.payload(), asset.type());
    }

    /** Text of a file of ours that is not served by itself. */
    static String template(String name) {
        return new String(read(OWN + name), StandardCharsets.UTF_8);
    }

    private static byte[] read(String resource) {
        try (InputStream in = Assets.class.getResourceAsStream(resource)) {
            if (in == null) {
                throw new IllegalStateException("not in the jar: " + resource);
            }
            return in.readAllBytes();
        } catch (IOException e) {
            throw new UncheckedIOException("reading " + resource, e);
        }
    }

    private static String type(String name) {
        return switch (name.substring(name.lastIndexOf('.') + 1)) {
            case "js" -> "text/javascript; charset=utf-8";
            case "css" -> "text/css; charset=utf-8";
            case "svg" -> "image/svg+xml";
            default -> throw new IllegalStateException("no content type for " + name);
        };
    }
}
