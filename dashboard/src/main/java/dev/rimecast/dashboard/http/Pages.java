package dev.rimecast.dashboard.http;

import io.javalin.http.Context;
import java.nio.charset.StandardCharsets;
import java.util.EnumMap;
import java.util.Map;
import java.util.Objects;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** The pages' HTML: one shell, filled once per page at start; everything else is drawn by its script. */
public final class Pages {

    /** Every page with its address and its script. */
    public enum Page {
        FLEET("/", "Fleet", "fleet", false),
        MACHINE("/machines/{id}", "Machine", "machine", false),
        ALERTS("/alerts", "Alerts", "alerts", false),
        ALERT("/alerts/{id}", "Alert", "alert", false),
        WHY("/alerts/{id}/why", "Why it went off", "why", false),
        CASES("/cases", "Cases", "cases", false),
        VISITS("/visits", "Visits", "visits", false),
        VISIT("/visits/{id}", "Visit sheet", "visit", false),
        EVENTS("/events", "What happened", "events", false),
        NOTICES("/notices", "Notices", "notices", false),
        SYSTEM("/system", "System", "system", false),
        RULES("/rules", "Rules", "rules", false),
        THRESHOLDS("/thresholds", "Thresholds", "thresholds", false),
        RULE_BOOK("/rules/{id}", "Rules", "rule-book", false),
        ACCOUNT("/account", "Account", "account", false),
        TOKENS("/tokens", "API tokens", "tokens", false),
        ACCOUNTS("/accounts", "Accounts", "accounts", false),
        WORK("/work-report/{id}", "Work report", "work", false),
        CARE("/care/{id}", "Care record", "care", false),
        COMMISSIONING("/commissioning/{id}", "Commissioning", "commissioning", false),
        FIGURES("/figures", "Figures", "figures", false),
        SITE_CHECK("/site-check", "Check your ice machine", "site-check", true),
        WALL("/wall", "Fleet", "wall", true),
        SIGN_IN("/sign-in", "Sign in", "sign-in", true),
        SET_UP("/set-up", "Set up", "set-up", true),
        CHOOSE_PASSWORD("/choose-password", "Choose a password", "choose-password", true);

        private final String path;
        private final String title;
        private final String script;
        private final boolean open;

        Page(String path, String title, String script, boolean open) {
            this.path = path;
            this.title = title;
            this.script = script;
            this.open = open;
        }

        public String path() {
            return path;
        }

        /** Whether it draws plots. */
        private boolean plots() {
            return this == MACHINE || this == VISIT || this == THRESHOLDS;
        }

        /** Whether it is shown to somebody who has not signed in. */
        public boolean isOpen() {
            return open;
        }
    }

    /** The first page is seen most: its data, which the server has to make, is asked for before all else. */
    private static final String ASKED_AT_ONCE = Stream.of("fleet", "session")
            .map(path -> "<link rel=\"preload\" as=\"fetch\" crossorigin href=\"/api/v1/" + path + "\">\n")
            .collect(Collectors.joining());

    private static final String OF_THRESHOLDS = "<link rel=\"stylesheet\" href=\"{{assets}}thresholds.css\">\n";

    private final Map<Page, Payload> pages = new EnumMap<>(Page.class);
    private final Payload missing;

    public Pages(Assets assets) {
        String shell = Assets.template("shell.html");
        String plots = Assets.template("plots.html");
        for (Page page : Page.values()) {
            String asked = page == Page.FLEET ? ASKED_AT_ONCE : "";
            String more = (page.plots() ? plots : "") + (page == Page.THRESHOLDS ? OF_THRESHOLDS : "");
            pages.put(page, page(shell, assets, page.title, page.script, asked, more));
        }
        missing = page(shell, assets, "Not found", "missing", "", "");
    }

    private static Payload page(String shell, Assets assets, String title, String name, String asked, String more) {
        String modules = assets.withImports(name + ".js").stream()
                .map(module -> "<link rel=\"modulepreload\" href=\"{{assets}}" + module + "\">\n")
                .collect(Collectors.joining());
        String html = shell.replace("{{asked}}", asked)
                .replace("{{modules}}", modules)
                .replace("{{more}}", more)
                .replace("{{title}}", title)
                .replace("{{page}}", name)
                .replace("{{assets}}", assets.base());
        return Payload.fixed(html.getBytes(StandardCharsets.UTF_8));
    }

    public void send(Context ctx, Page page) {
        ctx.header("Cache-Control", page == Page.SITE_CHECK ? "no-store" : "no-cache");
        Reply.send(ctx, Objects.requireNonNull(pages.get(page)), "text/html; charset=utf-8");
    }

    /** The caller has set the status. */
    public void notFound(Context ctx) {
        ctx.contentType("text/html; charset=utf-8");
        ctx.result(missing.bytes());
    }
}
