package dev.rimecast.dashboard.http;

import dev.rimecast.telemetry.file.csv.IsoTime;
import dev.rimecast.telemetry.machine.Ids;
import io.javalin.http.Context;
import java.time.DateTimeException;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** Reads query parameters; what is not understood ends the request with a problem that names the parameter. */
public final class Query {
    private Query() {}

    public static Optional<String> text(Context ctx, String name) {
        return Optional.ofNullable(ctx.queryParam(name)).filter(value -> !value.isBlank());
    }

    /** An identifier of a machine or a site. */
    public static Optional<String> id(Context ctx, String name) {
        Optional<String> value = text(ctx, name);
        value.filter(id -> !Ids.isLegal(id)).ifPresent(id -> {
            throw Problem.badParameter(name, name + " is not an identifier").asException();
        });
        return value;
    }

    /** A point in time: ISO 8601 with an offset. */
    public static Optional<Instant> instant(Context ctx, String name) {
        return text(ctx, name)
                .map(value -> IsoTime.parse(value)
                        .orElseThrow(
                                () -> Problem.badParameter(name, name + " must be a time such as 2026-05-04T00:00:00Z")
                                        .asException()));
    }

    /** A length of time: ISO 8601, such as PT5M. */
    public static Optional<Duration> duration(Context ctx, String name) {
        return text(ctx, name).map(value -> {
            try {
                return Duration.parse(value);
            } catch (DateTimeException e) {
                throw Problem.badParameter(name, name + " must be a length of time such as PT5M or PT1H")
                        .asException();
            }
        });
    }

    public static boolean flag(Context ctx, String name, boolean otherwise) {
        String value = text(ctx, name).orElse(String.valueOf(otherwise));
        if (!value.equals("true") && !value.equals("false")) {
            throw Problem.badParameter(name, name + " must be true or false").asException();
        }
        return value.equals("true");
    }

    public static int number(Context ctx, String name, int otherwise, int least, int most) {
        String value = text(ctx, name).orElse(String.valueOf(otherwise));
        try {
            int number = Integer.parseInt(value);
            if (number >= least && number <= most) {
                return number;
            }
        } catch (NumberFormatException e) {
            // answered below, with the same words as a number out of range
        }
        throw Problem.badParameter(name, name + " must be a whole number from " + least + " to " + most)
                .asException();
    }

    /** Codes with commas between them, each of one of {@code all}; empty where the parameter is missing. */
    public static <T> Set<T> coded(Context ctx, String name, T[] all, Function<T, String> code) {
        Set<String> given = words(ctx, name, Stream.of(all).map(code).collect(Collectors.toUnmodifiableSet()));
        return Stream.of(all)
                .filter(value -> given.contains(code.apply(value)))
                .collect(Collectors.toUnmodifiableSet());
    }

    /** Words with commas between them, each one of {@code allowed}. */
    public static Set<String> words(Context ctx, String name, Set<String> allowed) {
        Set<String> words = text(ctx, name).stream()
                .flatMap(value -> Stream.of(value.split(",")))
                .map(String::strip)
                .collect(Collectors.toUnmodifiableSet());
        if (!allowed.containsAll(words)) {
            throw Problem.badParameter(
                            name, name + " takes " + allowed.stream().sorted().toList())
                    .asException();
        }
        return words;
    }
}
