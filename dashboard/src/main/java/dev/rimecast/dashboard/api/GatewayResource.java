package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.gateways.GatewayDesk;
import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.GatewayJson.CredentialJson;
import io.javalin.http.Context;
import java.time.Duration;
import tools.jackson.databind.json.JsonMapper;

/** {@code /api/v1/gateway-credentials} and {@code /api/v1/gateways/{id}/credentials}: the keys of gateways. */
final class GatewayResource {
    private static final int LONGEST_CERTIFICATE = 20_000;
    private static final int USUAL_GRACE_HOURS = 24;

    private final GatewayDesk desk;
    private final Reply reply;
    private final JsonMapper json;

    GatewayResource(GatewayDesk desk, Reply reply, JsonMapper json) {
        this.desk = desk;
        this.reply = reply;
        this.json = json;
    }

    void list(Context ctx) {
        reply.json(ctx, desk.list().stream().map(CredentialJson::of).toList());
    }

    /** A secret, or with {@code certificate} in the body the gateway's own certificate. */
    void add(Context ctx) {
        Body body = Body.of(ctx, json);
        String certificate = body.text("certificate", LONGEST_CERTIFICATE);
        String gateway = ctx.pathParam("id");
        GatewayDesk.Made made = Answers.done(
                certificate.isEmpty()
                        ? desk.addSecret(who(ctx), gateway)
                        : desk.addCertificate(who(ctx), gateway, certificate),
                "");
        ctx.status(201);
        reply.json(ctx, CredentialJson.made(made));
    }

    void rotate(Context ctx) {
        Body body = Body.of(ctx, json);
        int hours = body.given("graceHours") ? body.wholeNumber("graceHours") : USUAL_GRACE_HOURS;
        String gateway = ctx.pathParam("id");
        GatewayDesk.Made made = Answers.done(
                desk.rotate(who(ctx), gateway, Duration.ofHours(hours)),
                "Gateway " + gateway + " has no secret in force.");
        ctx.status(201);
        reply.json(ctx, CredentialJson.made(made));
    }

    void revoke(Context ctx) {
        Body.of(ctx, json);
        String gateway = ctx.pathParam("id");
        reply.json(
                ctx,
                Answers.done(desk.revoke(who(ctx), gateway), "Gateway " + gateway + " has no key in force.").stream()
                        .map(CredentialJson::of)
                        .toList());
    }

    private static String who(Context ctx) {
        return Gate.visitor(ctx).person().name();
    }
}
