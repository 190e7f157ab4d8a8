package dev.rimecast.dashboard;

import static dev.rimecast.alerts.people.Role.ADMINISTRATOR;
import static dev.rimecast.alerts.people.Role.ANALYST;
import static dev.rimecast.alerts.people.Role.ENGINEER;
import static dev.rimecast.alerts.people.Role.MANAGER;
import static dev.rimecast.alerts.people.Role.OPERATOR;
import static dev.rimecast.alerts.people.Role.SCREEN;
import static dev.rimecast.alerts.people.Role.VIEWER;

import dev.rimecast.alerts.people.Role;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;

/**
 * Who may use each route of the API, written down here by hand: a route that is missing here fails {@link AccessTest}.
 * Placeholders in braces are filled with what belongs to the first site.
 */
final class RouteTable {
    private static final Set<Role> EVERYBODY_AND_SCREENS = EnumSet.allOf(Role.class);
    private static final Set<Role> EVERYBODY = EnumSet.complementOf(EnumSet.of(SCREEN));
    private static final Set<Role> WORKERS = EnumSet.of(OPERATOR, ENGINEER, MANAGER, ADMINISTRATOR);
    private static final Set<Role> RESPONSIBLE = EnumSet.of(ENGINEER, MANAGER, ADMINISTRATOR);
    private static final Set<Role> TELLERS = EnumSet.of(OPERATOR, MANAGER, ADMINISTRATOR);
    private static final Set<Role> RULERS = EnumSet.of(MANAGER, ADMINISTRATOR);
    private static final Set<Role> TUNERS = EnumSet.of(ANALYST, ADMINISTRATOR);
    private static final Set<Role> SCRIPTERS = EnumSet.complementOf(EnumSet.of(SCREEN, VIEWER));
    private static final Set<Role> ONLY_ADMINISTRATORS = EnumSet.of(ADMINISTRATOR);
    private static final Set<Role> NOBODY_NEEDED = EnumSet.noneOf(Role.class);

    private static final String NOTE = "{\"version\":1,\"note\":\"n\"}";
    private static final String WORK = "{\"id\":\"7d3c0f7e-8a57-4d0e-9a3e-0c7c2b9a1f01\",\"found\":\"scale\","
            + "\"done\":[{\"what\":\"descaled\"}]}";
    /** Stands for a small picture. */
    static final String JPEG = "{jpeg}";

    private static final String CALL = "{\"event\":\"call\",\"detail\":\"no-ice\"}";
    private static final String CLAIM = "{\"row\":{\"machine\":\"ice-9001\",\"site\":\"{site}\",\"gateway\":\"gw-1\"}}";
    private static final String VISIT =
            "{\"id\":\"7d3c0f7e-8a57-4d0e-9a3e-0c7c2b9a1f02\",\"site\":\"{site}\",\"day\":\"{today}\","
                    + "\"from\":\"09:00\",\"to\":\"10:00\",\"engineer\":\"Noa\",\"reason\":\"r\"}";
    private static final String REASON = "{\"reason\":\"r\"}";
    private static final String CHANGES =
            "{\"changes\":[{\"path\":\"change.clear_hours\",\"value\":24}],\"reason\":\"r\"}";
    private static final String OUT = "{\"version\":1,\"reason\":\"r\",\"permittedBy\":\"p\"}";

    /**
     * @param roles who may; empty for a route that is open to all
     * @param inPerson whether an API token is refused
     * @param body what is sent, empty for none
     * @param foreign the status for somebody of another site
     */
    record Row(String method, String path, Set<Role> roles, boolean inPerson, String body, int foreign) {
        String route() {
            return method + ' ' + path.replaceAll("[?].*", "").replaceAll("\\{[^}]*}", "{}");
        }

        boolean isOpen() {
            return roles.isEmpty();
        }

        boolean changes() {
            return !method.equals("GET");
        }
    }

    static final List<Row> ROWS = List.of(
            get("/api/v1/fleet", EVERYBODY_AND_SCREENS, 200),
            get("/api/v1/sites", EVERYBODY, 200),
            get("/api/v1/machines/{machine}", EVERYBODY, 404),
            get("/api/v1/machines/{machine}/temperatures", EVERYBODY, 404),
            get("/api/v1/machines/{machine}/cycles", EVERYBODY, 404),
            get("/api/v1/machines/{machine}/trace", EVERYBODY, 404),
            get("/api/v1/machines/{machine}/proofs", EVERYBODY, 404),
            get("/api/v1/machines/{machine}/care", EVERYBODY, 404),
            get("/api/v1/machines/{machine}/events", EVERYBODY, 404),
            get("/api/v1/machines/{machine}/weighed-harvests", EVERYBODY, 404),
            post("/api/v1/machines/{machine}/events", WORKERS, CALL, 404),
            get("/api/v1/machines/{machine}/work-reports", EVERYBODY, 404),
            post("/api/v1/machines/{machine}/work-reports", RESPONSIBLE, WORK, 404),
            get("/api/v1/work-reports/{report}", EVERYBODY, 404),
            get("/api/v1/work-reports/{report}/photos/{photo}", EVERYBODY, 404),
            new Row("PUT", "/api/v1/work-reports/{report}/photos/{photo}", RESPONSIBLE, false, JPEG, 404),
            get("/api/v1/refrigerant.csv", EVERYBODY, 200),
            get("/api/v1/outcomes.csv", EVERYBODY, 200),
            get("/api/v1/figures", EVERYBODY, 200),
            get("/api/v1/work-not-held", EVERYBODY, 200),
            get("/api/v1/missed-calls.csv", EVERYBODY, 200),
            get("/api/v1/machines/{machine}/commissioning", EVERYBODY, 404),
            post("/api/v1/machines/{machine}/commissioning", RESPONSIBLE, "{commissioning}", 404),
            get("/api/v1/machines/{machine}/care-record", EVERYBODY, 404),
            get("/api/v1/machines/{machine}/care-record.csv", EVERYBODY, 404),
            get("/api/v1/sites/{site}/care-record", EVERYBODY, 404),
            get("/api/v1/sites/{site}/care-record.csv", EVERYBODY, 404),
            get("/api/v1/sites/{site}/events", EVERYBODY, 404),
            get("/api/v1/questions", EVERYBODY, 200),
            post("/api/v1/sites/{site}/events", WORKERS, CALL, 404),
            post("/api/v1/events/import", WORKERS, "time,machine,event\n{now},{machine},cleaned\n", 200),
            post("/api/v1/weather", WORKERS, "site,date,max_c\n{site},2026-07-01,31\n", 200),
            get("/api/v1/alerts", EVERYBODY, 200),
            get("/api/v1/alerts/{alert}", EVERYBODY, 404),
            get("/api/v1/alerts/{alert}/why", EVERYBODY, 404),
            post("/api/v1/alerts/{alert}/acknowledge", WORKERS, NOTE, 404),
            post("/api/v1/alerts/{alert}/reset", WORKERS, NOTE, 404),
            post(
                    "/api/v1/alerts/{alert}/shelve",
                    WORKERS,
                    "{\"version\":1,\"reason\":\"r\",\"until\":\"2099-01-01T00:00:00Z\"}",
                    404),
            post("/api/v1/alerts/{alert}/out-of-service", RESPONSIBLE, OUT, 404),
            post("/api/v1/machines/{machine}/out-of-service", RESPONSIBLE, OUT, 404),
            post(
                    "/api/v1/alerts/{alert}/join",
                    WORKERS,
                    "{\"version\":1,\"case\":\"7d3c0f7e-8a57-4d0e-9a3e-0c7c2b9a1f01\",\"reason\":\"r\"}",
                    404),
            post("/api/v1/alerts/{alert}/part", WORKERS, "{\"version\":1,\"reason\":\"r\"}", 404),
            get("/api/v1/alerts/{alert}/assignees", WORKERS, 404),
            post("/api/v1/alerts/{alert}/assign", WORKERS, NOTE, 404),
            post("/api/v1/alerts/{alert}/notes", WORKERS, "{\"text\":\"t\"}", 404),
            post("/api/v1/alerts/{alert}/answers", WORKERS, "{\"question\":\"air-filter\",\"answer\":\"clean\"}", 404),
            get("/api/v1/cases", EVERYBODY, 200),
            get("/api/v1/cases/{case}", EVERYBODY, 404),
            post("/api/v1/cases/{case}/close", WORKERS, REASON, 404),
            post("/api/v1/cases/{case}/site-links", WORKERS, "{}", 404),
            get("/api/v1/site-links", EVERYBODY, 200),
            post("/api/v1/site-links/{link}/revoke", WORKERS, "{}", 404),
            post("/api/v1/site-check", NOBODY_NEEDED, "{\"link\":\"x\"}", 404),
            post(
                    "/api/v1/site-check/answers",
                    NOBODY_NEEDED,
                    "{\"link\":\"x\",\"check\":\"air-filter\",\"answer\":\"clean\"}",
                    404),
            post("/api/v1/site-check/weighed-harvests", NOBODY_NEEDED, "{\"link\":\"x\",\"kilograms\":\"1.25\"}", 404),
            get("/api/v1/visits", EVERYBODY, 200),
            post("/api/v1/visits", RULERS, VISIT, 404),
            get("/api/v1/sites/{site}/visit-effect?day={today}&from=09:00&to=10:00&engineer=Noa", RULERS, 404),
            get("/api/v1/visits/{visit}", EVERYBODY, 404),
            get("/api/v1/visits/{visit}/effect?day={today}", EVERYBODY, 404),
            post("/api/v1/visits/plan", RULERS, "{}", 200),
            post("/api/v1/visits/{visit}/accept", RULERS, "{\"sequence\":0}", 404),
            post("/api/v1/visits/{visit}/move", RULERS, "{\"sequence\":0,\"day\":\"{today}\"}", 404),
            post("/api/v1/visits/{visit}/release", RULERS, "{\"sequence\":0}", 404),
            post("/api/v1/visits/{visit}/cancel", RULERS, "{\"sequence\":0,\"reason\":\"r\"}", 404),
            post("/api/v1/visits/{visit}/done", WORKERS, "{\"sequence\":0}", 404),
            inPerson("GET", "/api/v1/calendars", EVERYBODY, "", 200),
            inPerson("POST", "/api/v1/calendars", EVERYBODY, "{}", 200),
            inPerson("DELETE", "/api/v1/calendars/{calendar}", EVERYBODY, "", 404),
            get("/calendar/{calendar}", NOBODY_NEEDED, 404),
            get("/api/v1/holds", EVERYBODY, 200),
            post("/api/v1/holds/{hold}/end", WORKERS, REASON, 404),
            get("/api/v1/notices", EVERYBODY, 200),
            get("/api/v1/notices/{notice}", EVERYBODY, 404),
            get("/api/v1/receivers", EVERYBODY, 200),
            post("/api/v1/notices/{notice}/retry", TELLERS, "{}", 404),
            post("/api/v1/receivers/{receiver}/test", TELLERS, "{}", 404),
            get("/api/v1/events", EVERYBODY, 200),
            get("/api/v1/rules", EVERYBODY, 200),
            get("/api/v1/rules/{book}", EVERYBODY, 200),
            get("/api/v1/rules/{book}/versions", EVERYBODY, 200),
            get("/api/v1/rules/{book}/versions/{standard}", EVERYBODY, 200),
            post("/api/v1/rules/{book}/check", RULERS, "{\"text\":\"x\"}", 403),
            new Row("PUT", "/api/v1/rules/{book}", RULERS, false, "{\"text\":\"x\",\"reason\":\"r\"}", 403),
            post("/api/v1/rules/{book}/roll-back", RULERS, "{\"to\":0,\"reason\":\"r\"}", 403),
            get("/api/v1/thresholds", EVERYBODY, 200),
            new Row("PUT", "/api/v1/thresholds", TUNERS, false, CHANGES, 403),
            post("/api/v1/thresholds/roll-back", TUNERS, "{\"to\":1,\"reason\":\"r\"}", 403),
            get("/api/v1/thresholds/versions", EVERYBODY, 200),
            get("/api/v1/thresholds/versions/{first}", EVERYBODY, 200),
            get("/api/v1/thresholds/trials", EVERYBODY, 403),
            post("/api/v1/thresholds/trials", TUNERS, CHANGES, 403),
            get("/api/v1/thresholds/trials/{trial}", EVERYBODY, 403),
            post("/api/v1/thresholds/trials/{trial}/promote", TUNERS, REASON, 403),
            post("/api/v1/thresholds/trials/{trial}/drop", TUNERS, REASON, 403),
            get("/api/v1/thresholds/runs", EVERYBODY, 403),
            post("/api/v1/thresholds/runs", TUNERS, "{\"kind\":\"back-test\",\"days\":30," + CHANGES.substring(1), 403),
            get("/api/v1/thresholds/runs/{run}", EVERYBODY, 403),
            new Row("DELETE", "/api/v1/thresholds/runs/{run}", TUNERS, false, "{}", 403),
            post("/api/v1/thresholds/effects", TUNERS, "{\"changes\":[]}", 403),
            get("/api/v1/thresholds/effects/{run}", TUNERS, 403),
            post("/api/v1/thresholds/file", TUNERS, "{\"text\":\"version: x\"}", 403),
            get("/api/v1/thresholds/fleet", EVERYBODY, 403),
            post("/api/v1/thresholds/fleet", EVERYBODY, "{\"days\":60,\"fitDays\":14}", 403),
            new Row("DELETE", "/api/v1/thresholds/fleet", EVERYBODY, false, "{}", 403),
            get("/api/v1/marks", EVERYBODY, 200),
            get("/api/v1/marks.csv", EVERYBODY, 200),
            post(
                    "/api/v1/marks",
                    TUNERS,
                    "{\"machine\":\"{machine}\",\"from\":\"2026-05-01T00:00:00Z\",\"to\":\"2026-05-02T00:00:00Z\",\"mark\":\"not\"}",
                    404),
            new Row("DELETE", "/api/v1/marks/{mark}", TUNERS, false, "{}", 404),
            get("/api/v1/status", NOBODY_NEEDED, 200),
            get("/healthz", NOBODY_NEEDED, 200),
            get("/livez", NOBODY_NEEDED, 200),
            get("/readyz", NOBODY_NEEDED, 200),
            get("/metrics", EnumSet.of(ANALYST, ADMINISTRATOR), 403),
            get("/api/v1/system", EnumSet.of(ANALYST, ADMINISTRATOR), 403),
            get("/api/v1/system/rejects", EnumSet.of(ANALYST, ADMINISTRATOR), 403),
            post("/api/v1/system/rejects/{reject}/replay", ONLY_ADMINISTRATORS, "{}", 403),
            get("/api/v1/system/dead-letters", EnumSet.of(ANALYST, ADMINISTRATOR), 403),
            post("/api/v1/system/dead-letters/{letter}/replay", ONLY_ADMINISTRATORS, "{}", 403),
            post("/api/v1/system/backup", ONLY_ADMINISTRATORS, "{}", 403),
            get("/api/v1/gateway-credentials", ONLY_ADMINISTRATORS, 403),
            post("/api/v1/gateways/{gateway}/credentials", ONLY_ADMINISTRATORS, "{}", 403),
            post("/api/v1/gateways/{gateway}/credentials/rotate", ONLY_ADMINISTRATORS, "{}", 403),
            post("/api/v1/gateways/{gateway}/credentials/revoke", ONLY_ADMINISTRATORS, "{}", 403),
            get("/api/v1/claims", ONLY_ADMINISTRATORS, 403),
            post("/api/v1/claims", ONLY_ADMINISTRATORS, CLAIM, 403),
            new Row("DELETE", "/api/v1/claims/{claimed}", ONLY_ADMINISTRATORS, false, "{}", 403),
            get("/api/v1/system/unclaimed", EnumSet.of(ANALYST, ADMINISTRATOR), 403),
            post("/api/v1/session", NOBODY_NEEDED, "{\"name\":\"{someone}\",\"password\":\"x\"}", 401),
            get("/api/v1/session", EVERYBODY, 200),
            new Row("DELETE", "/api/v1/session", EVERYBODY, true, "", 204),
            post("/api/v1/set-up", NOBODY_NEEDED, "{\"link\":\"x\",\"name\":\"x\",\"password\":\"x\"}", 404),
            post("/api/v1/password", NOBODY_NEEDED, "{\"link\":\"x\",\"password\":\"x\"}", 404),
            get("/api/v1/demo/accounts", NOBODY_NEEDED, 200),
            post("/api/v1/demo/session", NOBODY_NEEDED, "{\"account\":\"{account}\"}", 404),
            inPerson("POST", "/api/v1/account/password", EVERYBODY, "{\"current\":\"x\",\"next\":\"y\"}", 401),
            inPerson("GET", "/api/v1/account/second-factor", EVERYBODY, "", 200),
            inPerson("POST", "/api/v1/account/second-factor", EVERYBODY, "{\"current\":\"x\"}", 409),
            inPerson("POST", "/api/v1/account/second-factor/confirm", EVERYBODY, "{\"code\":\"000000\"}", 409),
            inPerson(
                    "POST",
                    "/api/v1/account/second-factor/recovery-codes",
                    EVERYBODY,
                    "{\"current\":\"x\",\"code\":\"000000\"}",
                    409),
            inPerson(
                    "POST",
                    "/api/v1/account/second-factor/remove",
                    EVERYBODY,
                    "{\"current\":\"x\",\"code\":\"000000\"}",
                    409),
            inPerson("GET", "/api/v1/account/sessions", EVERYBODY, "", 200),
            inPerson("DELETE", "/api/v1/account/sessions/{session}", EVERYBODY, "", 404),
            inPerson("GET", "/api/v1/tokens", SCRIPTERS, "", 200),
            inPerson(
                    "POST",
                    "/api/v1/tokens",
                    SCRIPTERS,
                    "{\"name\":\"n\",\"role\":\"viewer\",\"sites\":[\"{site}\"],\"endsAt\":\"{tomorrow}\"}",
                    409),
            inPerson("DELETE", "/api/v1/tokens/{token}", SCRIPTERS, "", 404),
            get("/api/v1/roles", EVERYBODY, 200),
            inPerson("GET", "/api/v1/accounts", ONLY_ADMINISTRATORS, "", 200),
            inPerson(
                    "POST",
                    "/api/v1/accounts",
                    ONLY_ADMINISTRATORS,
                    "{\"name\":\"Nn\",\"role\":\"viewer\",\"sites\":[\"{site}\"]}",
                    409),
            inPerson(
                    "POST",
                    "/api/v1/accounts/{account}",
                    ONLY_ADMINISTRATORS,
                    "{\"role\":\"viewer\",\"sites\":[\"{site}\"]}",
                    404),
            inPerson("POST", "/api/v1/accounts/{account}/second-factor/remove", ONLY_ADMINISTRATORS, "{}", 404),
            inPerson("POST", "/api/v1/accounts/{account}/link", ONLY_ADMINISTRATORS, "{}", 404));

    private RouteTable() {}

    private static Row get(String path, Set<Role> roles, int foreign) {
        return new Row("GET", path, roles, false, "", foreign);
    }

    private static Row post(String path, Set<Role> roles, String body, int foreign) {
        return new Row("POST", path, roles, false, body, foreign);
    }

    private static Row inPerson(String method, String path, Set<Role> roles, String body, int foreign) {
        return new Row(method, path, roles, true, body, foreign);
    }
}
