package dev.rimecast.dashboard.api;

import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.bench.Bench;
import dev.rimecast.dashboard.bench.Bench.Answer;
import dev.rimecast.dashboard.bench.Run;
import dev.rimecast.dashboard.bench.Sheet;
import dev.rimecast.dashboard.bench.Trial;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.Reply;
import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import tools.jackson.databind.json.JsonMapper;

/** {@code /api/v1/thresholds}: the policy of detection, its versions, questions to the past, and trials. */
final class ThresholdsResource {
    private static final int MOST_CHANGES = 60;
    private static final int MOST_VALUES = 12;
    /** As of the command line. */
    private static final int MOST_COMBINATIONS = 63;

    private static final int MOST_DAYS = 3_650;
    /** Of a policy's text; one with every number and its words has 30,000 characters. */
    private static final int LONGEST_FILE = 64 * 1024;
    /** A client may send six bytes for a character (its Unicode escape). */
    private static final int LONGEST_BYTES = 6 * LONGEST_FILE + 1024;

    private final Bench bench;
    private final Reply reply;
    private final JsonMapper json;

    ThresholdsResource(Bench bench, Reply reply, JsonMapper json) {
        this.bench = bench;
        this.reply = reply;
        this.json = json;
    }

    void sheet(Context ctx) {
        send(ctx, bench.sheet());
    }

    void versions(Context ctx) {
        reply.json(ctx, bench.versions());
    }

    void version(Context ctx) {
        reply.json(ctx, bench.version(number(ctx, "number")).orElseThrow(() -> nothing("version")));
    }

    void change(Context ctx) {
        int expected = ExpectedVersion.of(ctx, "the thresholds");
        Body body = Body.of(ctx, json);
        send(ctx, done(bench.change(expected, changes(body), Gate.visitor(ctx).person(), body.required("reason"))));
    }

    void rollBack(Context ctx) {
        int expected = ExpectedVersion.of(ctx, "the thresholds");
        Body body = Body.of(ctx, json);
        send(
                ctx,
                done(bench.rollBack(
                        expected, body.wholeNumber("to"), Gate.visitor(ctx).person(), body.required("reason"))));
    }

    void trials(Context ctx) {
        reply.json(ctx, bench.trials().stream().map(Trial::brief).toList());
    }

    void trial(Context ctx) {
        reply.json(ctx, bench.trial(number(ctx, "id")).orElseThrow(() -> nothing("trial")));
    }

    void tryOut(Context ctx) {
        Body body = Body.of(ctx, json);
        reply.json(ctx, done(bench.tryOut(changes(body), Gate.visitor(ctx).person(), body.required("reason"))));
    }

    void promote(Context ctx) {
        int id = number(ctx, "id");
        int expected = ExpectedVersion.of(ctx, "the thresholds");
        Body body = Body.of(ctx, json);
        send(ctx, done(bench.promote(id, expected, Gate.visitor(ctx).person(), body.required("reason"))));
    }

    void drop(Context ctx) {
        int id = number(ctx, "id");
        Body body = Body.of(ctx, json);
        reply.json(ctx, done(bench.drop(id, Gate.visitor(ctx).person(), body.required("reason"))));
    }

    void runs(Context ctx) {
        reply.json(ctx, bench.runs().stream().map(Run::brief).toList());
    }

    void run(Context ctx) {
        reply.json(ctx, bench.run(number(ctx, "id")).orElseThrow(() -> nothing("run")));
    }

    void start(Context ctx) {
        Body body = Body.of(ctx, json);
        String kind = body.required("kind");
        int days = days(body, "days");
        if (!kind.equals("back-test") && !kind.equals("sweep")) {
            throw Problem.badBody("kind must be back-test or sweep").asException();
        }
        Answer<Run> answer = kind.equals("back-test")
                ? bench.backTest(changes(body), days, Gate.visitor(ctx).person())
                : bench.sweep(
                        tried(body),
                        new Bench.Costs(cost(body, "costVisit"), cost(body, "costStop"), cost(body, "costLate")),
                        days,
                        Gate.visitor(ctx).person());
        reply.json(ctx, done(answer));
    }

    /** One number, or two in every combination. */
    private static List<Bench.Tried> tried(Body body) {
        List<Bench.Tried> tried = new ArrayList<>();
        tried.add(new Bench.Tried(body.required("path"), body.numbers("values", MOST_VALUES)));
        if (body.has("secondPath")) {
            tried.add(new Bench.Tried(body.required("secondPath"), body.numbers("secondValues", MOST_VALUES)));
            if (tried.get(0).path().equals(tried.get(1).path())) {
                throw Problem.badBody("secondPath must be another number than path")
                        .asException();
            }
            if (tried.get(0).values().size() * tried.get(1).values().size() > MOST_COMBINATIONS) {
                throw Problem.badBody("values and secondValues must be at most " + MOST_COMBINATIONS + " combinations")
                        .asException();
            }
        }
        return tried;
    }

    void cancel(Context ctx) {
        if (!bench.cancel(number(ctx, "id"))) {
            throw nothing("run that waits or runs");
        }
        ctx.status(204);
    }

    /** What moved numbers would have made of the last months; ends what the same person asked before. */
    void moved(Context ctx) {
        Body body = Body.of(ctx, json);
        reply.json(ctx, done(bench.effect(changes(body), Gate.visitor(ctx).person())));
    }

    void effect(Context ctx) {
        reply.json(ctx, bench.effect(number(ctx, "id")).orElseThrow(() -> nothing("effect of that number any more")));
    }

    /** A policy from a file, held against the one in force. */
    void file(Context ctx) {
        String text = Body.ofLong(ctx, json, LONGEST_BYTES).lines("text");
        if (text.length() > LONGEST_FILE) {
            throw new Problem(
                            413,
                            "too-large",
                            "The file is too large",
                            "A policy has at most " + LONGEST_FILE + " characters: is it another file?",
                            Map.of())
                    .asException();
        }
        Bench.FileRead read = bench.read(text);
        if (read instanceof Bench.FileRead.Unreadable unreadable) {
            throw new Problem(
                            422,
                            "policy-unreadable",
                            "The file is no policy that can be tried",
                            "Nothing was changed. Mend these places of the file, then give it again.",
                            Map.of("problems", unreadable.problems()))
                    .asException();
        }
        reply.json(ctx, read);
    }

    void looks(Context ctx) {
        reply.json(ctx, bench.looks());
    }

    /** Changes nothing, so whoever may see what comes of it may ask. */
    void look(Context ctx) {
        Body body = Body.of(ctx, json);
        reply.json(
                ctx,
                done(bench.look(
                        days(body, "days"),
                        days(body, "fitDays"),
                        Gate.visitor(ctx).person())));
    }

    void endLook(Context ctx) {
        if (!bench.endLook()) {
            throw nothing("look at the fleet that waits or runs");
        }
        ctx.status(204);
    }

    private static int days(Body body, String name) {
        int days = body.wholeNumber(name);
        if (days < 1 || days > MOST_DAYS) {
            throw Problem.badBody(name + " must be from 1 to " + MOST_DAYS).asException();
        }
        return days;
    }

    private static double cost(Body body, String name) {
        double cost = body.number(name);
        if (cost < 0) {
            throw Problem.badBody(name + " must be 0 or more").asException();
        }
        return cost;
    }

    private static Map<String, Double> changes(Body body) {
        Map<String, Double> changes = new LinkedHashMap<>();
        for (Body each : body.objects("changes", MOST_CHANGES)) {
            changes.put(each.required("path"), each.number("value"));
        }
        return changes;
    }

    private static <T> T done(Answer<T> answer) {
        if (answer instanceof Answer.Done<T> done) {
            return done.value();
        }
        if (answer instanceof Answer.Changed<T> changed) {
            throw new Problem(
                            412,
                            "thresholds-changed",
                            "The thresholds are not as you saw them",
                            "Version " + changed.current().number() + " was put into force by "
                                    + changed.current().who()
                                    + " in the meantime. Look at what changed, then change yours on top of it.",
                            Map.of("current", changed.current()))
                    .asException();
        }
        if (answer instanceof Answer.Wrong<T> wrong) {
            List<Map<String, Object>> problems = new ArrayList<>();
            wrong.problems().forEach(each -> problems.add(Map.of("path", each.path(), "what", each.what())));
            throw new Problem(
                            422,
                            "thresholds-wrong",
                            "These numbers can't be",
                            "Nothing was changed. "
                                    + String.join(
                                            "; ",
                                            wrong.problems().stream()
                                                    .map(each -> each.path() + ' ' + each.what())
                                                    .toList())
                                    + '.',
                            Map.of("problems", problems))
                    .asException();
        }
        if (answer instanceof Answer.Same<T>) {
            throw new Problem(
                            409,
                            "nothing-changed",
                            "That is how it is already",
                            "Every number is as it is in force. Nothing was changed.",
                            Map.of())
                    .asException();
        }
        if (answer instanceof Answer.NotPossible<T> not) {
            throw new Problem(409, "not-possible", "That can't be done now", not.why(), Map.of()).asException();
        }
        throw nothing("version, trial or run of that number, or it has ended");
    }

    private void send(Context ctx, Sheet sheet) {
        reply.versioned(ctx, sheet, sheet.version().number());
    }

    private static int number(Context ctx, String parameter) {
        String text = ctx.pathParam(parameter);
        if (!text.matches("\\d{1,9}")) {
            throw nothing("thing with that number");
        }
        return Integer.parseInt(text);
    }

    private static RuntimeException nothing(String what) {
        return Problem.notFound("There is no " + what + '.').asException();
    }
}
