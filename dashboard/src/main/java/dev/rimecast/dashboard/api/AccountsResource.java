package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.people.Account;
import dev.rimecast.alerts.people.People;
import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.people.Visitor;
import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.PeopleJson;
import dev.rimecast.dashboard.json.PeopleJson.AccountJson;
import dev.rimecast.dashboard.json.PeopleJson.LinkedJson;
import dev.rimecast.dashboard.json.PeopleJson.RoleJson;
import io.javalin.http.Context;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Stream;
import tools.jackson.databind.json.JsonMapper;

/** {@code /api/v1/accounts}: what administrators do; and {@code /api/v1/roles}, the table of who may do what. */
final class AccountsResource {
    private final People people;
    private final Reply reply;
    private final JsonMapper json;

    AccountsResource(People people, Reply reply, JsonMapper json) {
        this.people = people;
        this.reply = reply;
        this.json = json;
    }

    void roles(Context ctx) {
        reply.json(
                ctx,
                Stream.of(Role.values())
                        .map(role -> new RoleJson(
                                role.code(),
                                PeopleJson.permissions(people.roles().of(role))))
                        .toList());
    }

    void list(Context ctx) {
        Set<UUID> withFactor = people.factors().confirmed();
        reply.json(
                ctx,
                people.accounts().list(Gate.visitor(ctx)).stream()
                        .map(account -> AccountJson.of(account, withFactor.contains(account.id())))
                        .toList());
    }

    void create(Context ctx) {
        Visitor by = Gate.visitor(ctx);
        Body body = Body.of(ctx, json);
        Account account =
                Answers.done(people.accounts().create(by, body.required("name"), body.role(), body.sites()), "");
        ctx.status(201);
        reply.json(ctx, linked(by, account));
    }

    void change(Context ctx) {
        UUID id = Identifier.of(ctx.pathParam("id"), "account");
        Body body = Body.of(ctx, json);
        Account account = Answers.done(
                people.accounts().change(Gate.visitor(ctx), id, body.role(), body.sites(), body.flag("disabled")),
                "No account " + id + '.');
        reply.json(ctx, json(account));
    }

    /** Of somebody who has lost the device. */
    void removeFactor(Context ctx) {
        UUID id = Identifier.of(ctx.pathParam("id"), "account");
        Body.of(ctx, json);
        Account account = Answers.done(people.removeFactorOf(Gate.visitor(ctx), id), "No account " + id + '.');
        reply.json(ctx, json(account));
    }

    private AccountJson json(Account account) {
        return AccountJson.of(
                account, people.factors().standing(account).since().isPresent());
    }

    void link(Context ctx) {
        Visitor by = Gate.visitor(ctx);
        UUID id = Identifier.of(ctx.pathParam("id"), "account");
        Body.of(ctx, json);
        Account account = people.accounts().one(by, id).orElseThrow(() -> Identifier.unknown("account", id));
        ctx.status(201);
        reply.json(ctx, linked(by, account));
    }

    /** The link's secret is behind the hash sign, which browsers send to nobody. */
    private LinkedJson linked(Visitor by, Account account) {
        String secret = Answers.done(people.links().offer(by, account), "");
        return new LinkedJson(json(account), "/choose-password#" + secret);
    }
}
