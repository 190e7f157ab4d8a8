package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.rules.Book;
import dev.rimecast.alerts.rules.RuleDesk;
import dev.rimecast.alerts.rules.RuleDesk.Current;
import dev.rimecast.alerts.rules.RuleDesk.Outcome;
import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.RuleJson;
import io.javalin.http.Context;
import java.util.Map;
import tools.jackson.databind.json.JsonMapper;

/** {@code /api/v1/rules}: the firm's books, their versions, and how they are changed. */
final class RulesResource {
    /** Of a text and a reason as JSON, where a client may send six bytes for a character (its Unicode escape). */
    private static final int LONGEST_BYTES = 6 * (Book.LONGEST_TEXT + Body.LONGEST_TEXT) + 1024;

    private final RuleDesk desk;
    private final Reply reply;
    private final JsonMapper json;

    RulesResource(RuleDesk desk, Reply reply, JsonMapper json) {
        this.desk = desk;
        this.reply = reply;
        this.json = json;
    }

    void list(Context ctx) {
        reply.json(ctx, desk.all().stream().map(RuleJson.Summary::of).toList());
    }

    void one(Context ctx) {
        send(ctx, desk.current(book(ctx)));
    }

    void versions(Context ctx) {
        reply.json(
                ctx, desk.versions(book(ctx)).stream().map(RuleJson.Version::of).toList());
    }

    void version(Context ctx) {
        Book book = book(ctx);
        int version = version(ctx.pathParam("version"));
        reply.json(
                ctx,
                version == 0
                        ? RuleJson.VersionText.standard(book)
                        : desk.version(book, version)
                                .map(RuleJson.VersionText::of)
                                .orElseThrow(() -> noVersion(version)));
    }

    void check(Context ctx) {
        Book book = book(ctx);
        Body body = Body.ofLong(ctx, json, LONGEST_BYTES);
        reply.json(ctx, RuleJson.Checked.of(desk.check(book, body.lines("text"))));
    }

    void save(Context ctx) {
        Book book = book(ctx);
        int expected = ExpectedVersion.of(ctx, "the book");
        Body body = Body.ofLong(ctx, json, LONGEST_BYTES);
        answer(
                ctx,
                desk.save(book, expected, body.lines("text"), Gate.visitor(ctx).person(), body.required("reason")));
    }

    void rollBack(Context ctx) {
        Book book = book(ctx);
        int expected = ExpectedVersion.of(ctx, "the book");
        Body body = Body.of(ctx, json);
        answer(
                ctx,
                desk.rollBack(
                        book,
                        expected,
                        body.wholeNumber("to"),
                        Gate.visitor(ctx).person(),
                        body.required("reason")));
    }

    private void answer(Context ctx, Outcome outcome) {
        if (outcome instanceof Outcome.Done done) {
            send(ctx, done.current());
        } else if (outcome instanceof Outcome.Changed changed) {
            throw new Problem(
                            412,
                            "rules-changed",
                            "The book is not as you saw it",
                            whatIsThere(changed.current()),
                            Map.of("current", RuleJson.Summary.of(changed.current())))
                    .asException();
        } else if (outcome instanceof Outcome.Wrong wrong) {
            throw new Problem(
                            422,
                            "rules-wrong",
                            "This is no legal book",
                            "Nothing was saved: " + wrong.problems().size() + " to put right.",
                            Map.of("problems", RuleJson.problems(wrong.problems())))
                    .asException();
        } else if (outcome instanceof Outcome.Same) {
            throw new Problem(
                            409,
                            "nothing-changed",
                            "That is how it is already",
                            "The text is the one that is saved already. Nothing was saved.",
                            Map.of())
                    .asException();
        } else {
            throw Problem.notFound("There is no such version.").asException();
        }
    }

    private static String whatIsThere(Current current) {
        return current.latest()
                .map(latest -> "Version " + latest.version() + " was saved by " + latest.who()
                        + " in the meantime. Look at what changed, then save yours on top of it.")
                .orElse("No version was ever saved: send the ETag \"0\" of the standard.");
    }

    private void send(Context ctx, Current current) {
        reply.versioned(ctx, RuleJson.Text.of(current), current.version());
    }

    private static Book book(Context ctx) {
        String code = ctx.pathParam("book");
        return Book.ofCode(code)
                .orElseThrow(
                        () -> Problem.notFound("No book of rules " + code + '.').asException());
    }

    private static int version(String text) {
        if (!text.matches("\\d{1,9}")) {
            throw Problem.notFound("That is not the number of a version.").asException();
        }
        return Integer.parseInt(text);
    }

    private static RuntimeException noVersion(int version) {
        return Problem.notFound("No version " + version + '.').asException();
    }
}
