package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.people.Account;
import dev.rimecast.alerts.people.People;
import dev.rimecast.alerts.people.Permission;
import dev.rimecast.alerts.people.Secret;
import dev.rimecast.alerts.people.Session;
import dev.rimecast.alerts.people.SignIn;
import dev.rimecast.alerts.people.Visitor;
import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.access.SessionCookie;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.PeopleJson.DemoJson;
import dev.rimecast.dashboard.json.PeopleJson.MeJson;
import io.javalin.http.Context;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import tools.jackson.databind.json.JsonMapper;

/** {@code /api/v1/session}: coming in, who one is, going out; and what works without an account. */
final class SessionResource {
    /** A recovery code with what people put between its letters. */
    static final int LONGEST_CODE = 60;

    private final People people;
    private final boolean demo;
    private final Reply reply;
    private final JsonMapper json;

    /** @param demo whether the accounts of a demonstration can be entered */
    SessionResource(People people, boolean demo, Reply reply, JsonMapper json) {
        this.people = people;
        this.demo = demo;
        this.reply = reply;
        this.json = json;
    }

    void signIn(Context ctx) {
        Body body = Body.of(ctx, json);
        SignIn.Outcome outcome = people.signIn()
                .withPassword(
                        body.required("name"),
                        body.secret("password"),
                        body.text("code", LONGEST_CODE),
                        ctx.ip(),
                        Gate.client(ctx));
        if (outcome instanceof SignIn.Outcome.In in) {
            enter(ctx, in.sessionToken());
        } else {
            throw refused(ctx, outcome);
        }
    }

    /** The same for a wrong name, a wrong password and a disabled account. */
    static RuntimeException refused(Context ctx, SignIn.Outcome outcome) {
        if (outcome instanceof SignIn.Outcome.Wait wait) {
            long seconds = Math.max(1, wait.left().plus(Duration.ofMillis(999)).toSeconds());
            ctx.header("Retry-After", String.valueOf(seconds));
            return new Problem(
                            429,
                            "too-many-attempts",
                            "Too many attempts",
                            "Try again in " + seconds + " s.",
                            Map.of("retryAfterSeconds", seconds))
                    .asException();
        }
        if (outcome instanceof SignIn.Outcome.CodeNeeded) {
            return new Problem(
                            401,
                            "code-needed",
                            "A code is needed, too",
                            "Send the code of your second factor with name and password.",
                            Map.of())
                    .asException();
        }
        if (outcome instanceof SignIn.Outcome.WrongCode) {
            return new Problem(
                            401,
                            "wrong-code",
                            "Not let in",
                            "The code is wrong, or was used: wait for the next one.",
                            Map.of())
                    .asException();
        }
        return new Problem(401, "wrong-password", "Not let in", "The name or the password is wrong.", Map.of())
                .asException();
    }

    /** Another token than before, whatever the browser came with; that one ends. */
    private void enter(Context ctx, String token) {
        Gate.known(ctx).ifPresent(this::end);
        SessionCookie.set(ctx, token);
        Visitor visitor = people.entrance().bySession(token).orElseThrow();
        reply.json(ctx, me(visitor, Optional.of(Secret.forgeryToken(token))));
    }

    private void end(Visitor visitor) {
        visitor.session()
                .map(Session::id)
                .ifPresent(session -> people.entrance().end(visitor.account(), session));
    }

    void me(Context ctx) {
        Visitor visitor = Gate.visitor(ctx);
        boolean isToAddFactor =
                visitor.session().isPresent() && people.entrance().lacksFactor(visitor.account());
        if (!isToAddFactor) {
            Gate.require(ctx, Permission.SEE);
        }
        Optional<String> forgeryToken =
                visitor.session().flatMap(session -> SessionCookie.of(ctx)).map(Secret::forgeryToken);
        reply.json(ctx, me(visitor, forgeryToken));
    }

    /** Who asks, without what a change has to bring: for what is shown. */
    MeJson shown(Context ctx) {
        return me(Gate.visitor(ctx), Optional.empty());
    }

    private MeJson me(Visitor visitor, Optional<String> forgeryToken) {
        return MeJson.of(visitor, forgeryToken, people.factors().standing(visitor.account()));
    }

    void signOut(Context ctx) {
        end(Gate.visitor(ctx));
        Gate.leave(ctx);
        // What the browser kept of the answers; it does so where it trusts the way: over TLS, and on this machine.
        ctx.header("Clear-Site-Data", "\"cache\"");
        ctx.status(204);
    }

    void setUp(Context ctx) {
        Body body = Body.of(ctx, json);
        String password = body.secret("password");
        Account account = Answers.done(
                people.links().setUp(body.required("link"), body.required("name"), password),
                "This link was used, or its time is over. Each start of the server prints a new one.");
        signInWith(ctx, account, password);
    }

    void choosePassword(Context ctx) {
        Body body = Body.of(ctx, json);
        String password = body.secret("password");
        Account account = Answers.done(
                people.links().redeem(body.required("link"), password),
                "This link was used, or its time is over. Ask for another one.");
        signInWith(ctx, account, password);
    }

    private void signInWith(Context ctx, Account account, String password) {
        SignIn.Outcome outcome = people.signIn().withPassword(account.name(), password, ctx.ip(), Gate.client(ctx));
        if (outcome instanceof SignIn.Outcome.In in) {
            enter(ctx, in.sessionToken());
        } else {
            throw refused(ctx, outcome);
        }
    }

    /** None outside a demonstration. */
    void demoAccounts(Context ctx) {
        List<Account> accounts = demo ? people.signIn().demoAccounts() : List.of();
        reply.json(ctx, accounts.stream().map(DemoJson::of).toList());
    }

    void enterDemo(Context ctx) {
        if (!demo) {
            throw Problem.notFound("This is no demonstration.").asException();
        }
        UUID account = Identifier.of(Body.of(ctx, json).required("account"), "demonstration account");
        String token = people.signIn()
                .asDemo(account, ctx.ip(), Gate.client(ctx))
                .orElseThrow(() -> Identifier.unknown("demonstration account", account));
        enter(ctx, token);
    }
}
