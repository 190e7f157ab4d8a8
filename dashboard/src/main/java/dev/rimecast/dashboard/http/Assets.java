package dev.rimecast.dashboard.http;

import io.javalin.http.Context;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.Pattern;

/**
 * The files of the pages, read once at start. Only those of the list exist, so no path can lead anywhere else. Their
 * address holds a hash of them all: it changes with any of them, so that browsers may keep them for ever.
 */
public final class Assets {
    private static final String OWN = "/dev/rimecast/dashboard/web/";
    private static final String WEBJARS = "/META-INF/resources/webjars/";

    /** Keeps the pages of work at hand without a connection. */
    private static final String WORKER = "work-worker.js";

    private static final Pattern IMPORT = Pattern.compile("\\bfrom\\s*['\"](\\.{1,2}/[^'\"]+)['\"]");

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

    /**
     * A module and all that it imports, itself or by others, the nearest first: a browser that is told of them fetches them at once,
     * and not one after the other as each names the next.
     */
    Set<String> withImports(String module) {
        Set<String> found = new LinkedHashSet<>();
        Deque<String> left = new ArrayDeque<>(List.of(module));
        while (!left.isEmpty()) {
            String name = left.remove();
            Asset asset = assets.get(name);
            if (asset == null) {
                throw new IllegalStateException("not in assets.list, but imported: " + name);
            }
            if (found.add(name)) {
                IMPORT.matcher(new String(asset.payload().bytes(), StandardCharsets.UTF_8))
                        .results()
                        .map(each -> Path.of(name).resolveSibling(each.group(1)).normalize())
                        .forEach(path -> left.add(path.toString().replace('\\', '/')));
            }
        }
        return found;
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
