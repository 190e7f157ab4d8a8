package dev.rimecast.dashboard.http;

import io.javalin.http.Context;
import java.nio.charset.StandardCharsets;

/** The pages' HTML: one shell, filled once per page at start; everything else is drawn by its script. */
public final class Pages {
    private final Payload fleet;
    private final Payload machine;
    private final Payload alerts;
    private final Payload alert;
    private final Payload cases;
    private final Payload notices;
    private final Payload missing;

    public Pages(Assets assets) {
        String shell = Assets.template("shell.html");
        String plots = Assets.template("plots.html");
        fleet = page(shell, assets, "Fleet", "fleet", "");
        machine = page(shell, assets, "Machine", "machine", plots);
        alerts = page(shell, assets, "Alerts", "alerts", "");
        alert = page(shell, assets, "Alert", "alert", "");
        cases = page(shell, assets, "Cases", "cases", "");
        notices = page(shell, assets, "Notices", "notices", "");
        missing = page(shell, assets, "Not found", "missing", "");
    }

    private static Payload page(String shell, Assets assets, String title, String name, String more) {
        String html = shell.replace("{{more}}", more)
                .replace("{{title}}", title)
                .replace("{{page}}", name)
                .replace("{{assets}}", assets.base());
        return Payload.fixed(html.getBytes(StandardCharsets.UTF_8));
    }

    public void fleet(Context ctx) {
        send(ctx, fleet);
    }

    public void machine(Context ctx) {
        send(ctx, machine);
    }

    public void alerts(Context ctx) {
        send(ctx, alerts);
    }

    public void alert(Context ctx) {
        send(ctx, alert);
    }

    public void cases(Context ctx) {
        send(ctx, cases);
    }

    public void notices(Context ctx) {
        send(ctx, notices);
    }

    /** The caller has set the status. */
    void notFound(Context ctx) {
        ctx.contentType("text/html; charset=utf-8");
        ctx.result(missing.bytes());
    }

    private static void send(Context ctx, Payload page) {
        ctx.header("Cache-Control", "no-cache");
        Reply.send(ctx, page, "text/html; charset=utf-8");
    }
}
