package dev.rimecast.dashboard.http;

import io.javalin.http.Context;
import java.nio.charset.StandardCharsets;
import java.util.EnumMap;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Collectors;

/**
 * The pages' HTML: one shell, filled once per page at start; everything else is drawn by its script. The first page alone has data in it,
 * so that its rows are drawn at once.
 */
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
        SITE_CARE("/site-care/{id}", "Care record", "care", false),
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

    /**
     * What a page has in it for whoever asks for it.
     *
     * @param json an object
     * @param isWhole whether the page needs no other data for what it shows first
     */
    public record Data(String json, boolean isWhole) {}

    /** The first page is seen most: what it does not have in it, it asks for before all else. */
    private static final String OF_FLEET = asked("fleet") + asked("session");

    private static final String OF_SESSION = asked("session");

    private static final String OF_THRESHOLDS = "<link rel=\"stylesheet\" href=\"{{assets}}thresholds.css\">\n";

    /** Where what differs from visitor to visitor goes in the page that has data in it. */
    private static final String ASKED = "{{asked}}";

    private static final String DATA = "{{data}}";

    private static final String HTML = "text/html; charset=utf-8";

    private final Map<Page, Payload> pages = new EnumMap<>(Page.class);
    private final String fleet;
    private final Payload missing;

    public Pages(Assets assets) {
        String shell = Assets.template("shell.html");
        String plots = Assets.template("plots.html");
        for (Page page : Page.values()) {
            String more = (page.plots() ? plots : "") + (page == Page.THRESHOLDS ? OF_THRESHOLDS : "");
            pages.put(page, payload(page(shell, assets, page.title, page.script, more)));
        }
        fleet = page(shell, assets, Page.FLEET.title, Page.FLEET.script, "");
        missing = payload(page(shell, assets, "Not found", "missing", ""));
    }

    private static String asked(String path) {
        return "<link rel=\"preload\" as=\"fetch\" crossorigin href=\"/api/v1/" + path + "\">\n";
    }

    private static String page(String shell, Assets assets, String title, String name, String more) {
        String modules = assets.withImports(name + ".js").stream()
                .map(module -> "<link rel=\"modulepreload\" href=\"{{assets}}" + module + "\">\n")
                .collect(Collectors.joining());
        return shell.replace("{{modules}}", modules)
                .replace("{{more}}", more)
                .replace("{{title}}", title)
                .replace("{{page}}", name)
                .replace("{{assets}}", assets.base());
    }

    private static Payload payload(String page) {
        return Payload.fixed(page.replace(ASKED, "").replace(DATA, "").getBytes(StandardCharsets.UTF_8));
    }

    public void send(Context ctx, Page page) {
        ctx.header("Cache-Control", page == Page.SITE_CHECK ? "no-store" : "no-cache");
        Reply.send(ctx, Objects.requireNonNull(pages.get(page)), HTML);
    }

    /** The page of the fleet, with its first rows where there are any: for this visitor's browser only. */
    public void sendFleet(Context ctx, Optional<Data> data) {
        ctx.header("Cache-Control", "private, no-cache");
        String asked = data.filter(Data::isWhole).isPresent() ? OF_SESSION : OF_FLEET;
        String page = fleet.replace(ASKED, asked)
                .replace(DATA, data.map(Data::json).map(Pages::block).orElse(""));
        Reply.send(ctx, Payload.passing(page.getBytes(StandardCharsets.UTF_8)), HTML);
    }

    /**
     * No script to a browser, so that the policy of the page allows it (HTML, 4.12.1: a data block). No text in it ends it: the only
     * place of a {@code <} in JSON is in a text, where it may be written by its number (RFC 8259, 7).
     */
    private static String block(String json) {
        return "<script type=\"application/json\" id=\"first\">" + json.replace("<", "\\u003c") + "</script>\n";
    }

    /** The caller has set the status. */
    public void notFound(Context ctx) {
        ctx.contentType(HTML);
        ctx.result(missing.bytes());
    }
}
