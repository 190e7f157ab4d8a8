package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.gateways.GatewayCredential;
import dev.rimecast.alerts.gateways.GatewayDesk;
import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.GatewayJson.CredentialJson;
import io.javalin.http.Context;
import java.time.Duration;
import java.util.List;
import tools.jackson.databind.json.JsonMapper;

/** {@code /api/v1/gateway-credentials} and {@code /api/v1/gateways/{id}/credentials}: the keys of gateways. */
final class GatewayResource {
    private static final int LONGEST_CERTIFICATE = 20_000;
    /** 64 digits, with a colon between each two. */
    private static final int LONGEST_FINGERPRINT = 95;

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

    /** Of secrets, or with {@code certificate} in the body of certificates. */
    void rotate(Context ctx) {
        Body body = Body.of(ctx, json);
        Duration grace =
                Duration.ofHours(body.given("graceHours") ? body.wholeNumber("graceHours") : USUAL_GRACE_HOURS);
        String certificate = body.text("certificate", LONGEST_CERTIFICATE);
        String gateway = ctx.pathParam("id");
        GatewayDesk.Made made = certificate.isEmpty()
                ? Answers.done(desk.rotate(who(ctx), gateway, grace), "Gateway " + gateway + " has no secret in force.")
                : Answers.done(
                        desk.rotateCertificate(who(ctx), gateway, certificate, grace),
                        "Gateway " + gateway + " has no certificate in force.");
        ctx.status(201);
        reply.json(ctx, CredentialJson.made(made));
    }

    /** Of every key, or of the one whose {@code fingerprint} is in the body. */
    void revoke(Context ctx) {
        Body body = Body.of(ctx, json);
        String gateway = ctx.pathParam("id");
        List<GatewayCredential> ended = body.given("fingerprint")
                ? Answers.done(
                        desk.revoke(who(ctx), gateway, body.text("fingerprint", LONGEST_FINGERPRINT)),
                        "Gateway " + gateway + " has no such key in force.")
                : Answers.done(desk.revoke(who(ctx), gateway), "Gateway " + gateway + " has no key in force.");
        reply.json(ctx, ended.stream().map(CredentialJson::of).toList());
    }

    private static String who(Context ctx) {
        return Gate.visitor(ctx).person().name();
    }
}
