package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.Writing;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.telemetry.file.csv.IsoTime;
import io.javalin.http.Context;
import java.io.IOException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Stream;
import tools.jackson.core.JacksonException;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** The JSON of a request that changes something; what is not understood ends it with a problem that names the member. */
final class Body {
    /** Of what people write in a form, in characters. */
    static final int LONGEST_TEXT = 2_000;

    private static final int MOST_SITES = 1_000;

    private final JsonNode json;
    /** What its members are called, before their own names. */
    private final String in;

    private Body(JsonNode json, String in) {
        this.json = json;
        this.in = in;
    }

    static Body of(Context ctx, JsonMapper mapper) {
        requireJson(ctx);
        return parse(mapper, ctx.bodyAsBytes());
    }

    /**
     * For what may be long.
     *
     * @param longestBytes of the body
     */
    static Body ofLong(Context ctx, JsonMapper mapper, int longestBytes) {
        requireJson(ctx);
        return parse(mapper, bytes(ctx, longestBytes, "Send at most " + longestBytes / 1024 + " KiB."));
    }

    /**
     * A body of any kind that may be longer than the usual ones.
     *
     * @param told what to do about one that is too long
     */
    static byte[] bytes(Context ctx, int longestBytes, String told) {
        try {
            byte[] bytes = ctx.bodyInputStream().readNBytes(longestBytes + 1);
            if (bytes.length > longestBytes) {
                throw new Problem(413, "too-large", "The body is too large", told, Map.of()).asException();
            }
            return bytes;
        } catch (IOException e) {
            // whoever sent it broke it off, or the line did
            throw Problem.badBody("the body ended early").asException();
        }
    }

    private static Body parse(JsonMapper mapper, byte[] bytes) {
        try {
            return new Body(mapper.readTree(bytes), "");
        } catch (JacksonException e) {
            throw Problem.badBody("not JSON: " + e.getOriginalMessage()).asException();
        }
    }

    private static void requireJson(Context ctx) {
        String type = ctx.contentType();
        if (type == null || !type.startsWith("application/json")) {
            throw new Problem(415, "not-json", "The body must be JSON", "Send application/json.", Map.of())
                    .asException();
        }
    }

    /** A text that must be there, as it is, with its line ends made one kind. */
    String lines(String name) {
        JsonNode node = json.path(name);
        if (!node.isString()) {
            throw Problem.badBody(name + " is missing: send the whole text").asException();
        }
        return node.stringValue().replace("\r\n", "\n").replace('\r', '\n');
    }

    /** A member as problems call it, e.g. {@code done[1].what}. */
    String name(String member) {
        return in + member;
    }

    boolean given(String name) {
        JsonNode node = json.path(name);
        return !node.isMissingNode() && !node.isNull();
    }

    /** An identifier that may be left out. */
    Optional<UUID> uuid(String name) {
        if (!given(name)) {
            return Optional.empty();
        }
        try {
            return Optional.of(UUID.fromString(text(name)));
        } catch (IllegalArgumentException e) {
            throw Problem.badBody(name(name) + " must be a UUID").asException();
        }
    }

    /** The objects of a list that must be there; problems call a member of one {@code name[1].member}. */
    List<Body> objects(String name, int most) {
        JsonNode node = json.path(name);
        if (!node.isArray() || node.size() > most) {
            throw Problem.badBody(name(name) + " must be a list of at most " + most)
                    .asException();
        }
        List<Body> objects = new ArrayList<>();
        for (JsonNode each : node) {
            String called = name(name) + '[' + objects.size() + ']';
            if (!each.isObject()) {
                throw Problem.badBody(called + " must be an object").asException();
            }
            objects.add(new Body(each, called + '.'));
        }
        return objects;
    }

    /** The members of an object that must be there, each a text; an empty one is as good as none. */
    Map<String, String> texts(String name, int longest) {
        JsonNode node = json.path(name);
        if (!node.isObject()) {
            throw Problem.badBody(name(name) + " must be an object").asException();
        }
        Body object = new Body(node, name(name) + '.');
        Map<String, String> texts = new LinkedHashMap<>();
        for (String member : node.propertyNames()) {
            String text = object.text(member, longest);
            if (!text.isEmpty()) {
                texts.put(member, text);
            }
        }
        return texts;
    }

    int wholeNumber(String name) {
        JsonNode node = json.path(name);
        if (!node.isInt() || node.intValue() < 0) {
            throw Problem.badBody(name(name) + " must be a whole number from 0").asException();
        }
        return node.intValue();
    }

    /** A finite number that must be there. */
    double number(String name) {
        return finite(json.path(name), name(name));
    }

    boolean has(String name) {
        return json.has(name);
    }

    /** Finite numbers of a list that must be there. */
    List<Double> numbers(String name, int most) {
        JsonNode node = json.path(name);
        if (!node.isArray() || node.isEmpty() || node.size() > most) {
            throw Problem.badBody(name(name) + " must be a list of 1 to " + most + " numbers")
                    .asException();
        }
        List<Double> numbers = new ArrayList<>();
        for (JsonNode each : node) {
            numbers.add(finite(each, name(name) + '[' + numbers.size() + ']'));
        }
        return numbers;
    }

    private static double finite(JsonNode node, String called) {
        if (!node.isNumber() || !Double.isFinite(node.doubleValue())) {
            throw Problem.badBody(called + " must be a number").asException();
        }
        return node.doubleValue();
    }

    /** The version that was looked at. */
    long version() {
        JsonNode version = json.path("version");
        if (!version.isIntegralNumber() || !version.canConvertToLong()) {
            throw Problem.badBody("version must be the version that you looked at")
                    .asException();
        }
        return version.asLong();
    }

    /** A text that may be left out. */
    String text(String name) {
        return text(name, LONGEST_TEXT);
    }

    String text(String name, int longest) {
        JsonNode node = json.path(name);
        if (node.isMissingNode() || node.isNull()) {
            return "";
        }
        if (!node.isString() || node.stringValue().length() > longest) {
            throw Problem.badBody(name(name) + " must be a text of at most " + longest + " characters")
                    .asException();
        }
        if (!Writing.canBeKept(node.stringValue())) {
            throw Problem.badBody(name(name) + ' ' + Writing.WRONG).asException();
        }
        return node.stringValue().strip();
    }

    /** A text that must be there. */
    String required(String name) {
        String text = text(name);
        if (text.isEmpty()) {
            throw Problem.badBody(name(name) + " is missing: say it in a few words")
                    .asException();
        }
        return text;
    }

    /** Texts of a list that may be left out; an empty one is none. */
    List<String> strings(String name, int most, int longest) {
        JsonNode node = json.path(name);
        if (!given(name)) {
            return List.of();
        }
        if (!node.isArray() || node.size() > most) {
            throw Problem.badBody(name(name) + " must be a list of at most " + most)
                    .asException();
        }
        List<String> texts = new ArrayList<>();
        for (JsonNode each : node) {
            if (!each.isString() || each.stringValue().length() > longest || !Writing.canBeKept(each.stringValue())) {
                throw Problem.badBody(name(name) + " must be a list of texts of at most " + longest + " characters")
                        .asException();
            }
            texts.add(each.stringValue().strip());
        }
        return texts.stream().filter(text -> !text.isEmpty()).toList();
    }

    /** A text that must be there, as it is: spaces belong to it. */
    String secret(String name) {
        JsonNode node = json.path(name);
        if (!node.isString()
                || node.stringValue().isEmpty()
                || node.stringValue().length() > LONGEST_TEXT) {
            throw Problem.badBody(name + " is missing, or longer than " + LONGEST_TEXT + " characters")
                    .asException();
        }
        return node.stringValue();
    }

    boolean flag(String name) {
        JsonNode node = json.path(name);
        if (!node.isMissingNode() && !node.isBoolean()) {
            throw Problem.badBody(name + " must be true or false").asException();
        }
        return node.asBoolean(false);
    }

    Role role() {
        return Role.ofCode(required("role"))
                .orElseThrow(() -> Problem.badBody("role must be one of "
                                + Stream.of(Role.values()).map(Role::code).toList())
                        .asException());
    }

    /** Named sites, or {@code null} for every site: to leave it out by mistake must not give everything. */
    SiteScope sites() {
        JsonNode node = json.path("sites");
        if (node.isNull()) {
            return SiteScope.EVERY;
        }
        if (!node.isArray() || node.size() > MOST_SITES) {
            throw Problem.badBody("sites must be a list of sites, or null for every site")
                    .asException();
        }
        List<String> sites = new ArrayList<>();
        for (JsonNode each : node) {
            if (!each.isString() || !dev.rimecast.telemetry.machine.Ids.isLegal(each.stringValue())) {
                throw Problem.badBody("sites has what is no identifier of a site")
                        .asException();
            }
            sites.add(each.stringValue());
        }
        return SiteScope.of(sites);
    }

    /** A time that must be there: ISO 8601 with an offset. */
    Instant instant(String name) {
        return IsoTime.parse(required(name))
                .orElseThrow(() -> Problem.badBody(name + " must be a time such as 2026-05-04T18:00:00Z")
                        .asException());
    }
}
