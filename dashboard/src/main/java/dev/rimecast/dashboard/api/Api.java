package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.gateways.GatewayDesk;
import dev.rimecast.alerts.people.People;
import dev.rimecast.alerts.people.Permission;
import dev.rimecast.alerts.register.MachineClaims;
import dev.rimecast.alerts.rules.RuleDesk;
import dev.rimecast.alerts.view.SiteChecks;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.Thresholds;
import dev.rimecast.alerts.visits.calendar.CalendarLinks;
import dev.rimecast.dashboard.HealthView;
import dev.rimecast.dashboard.access.Access;
import dev.rimecast.dashboard.access.Fleet;
import dev.rimecast.dashboard.bench.Bench;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.live.LiveHub;
import dev.rimecast.dashboard.system.Probes;
import dev.rimecast.dashboard.system.SystemWatch;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import io.micrometer.core.instrument.MeterRegistry;
import java.time.InstantSource;
import java.util.List;
import java.util.concurrent.Executor;
import java.util.function.Supplier;
import tools.jackson.databind.json.JsonMapper;

/** Builds the resources and names their routes. */
public final class Api {
    private static final Access SEE = Access.may(Permission.SEE);
    private static final Access SEE_FLEET = Access.may(Permission.SEE_FLEET);
    private static final Access SYSTEM = Access.may(Permission.SEE_SYSTEM);
    private static final Access MANAGE = Access.inPerson(Permission.MANAGE_ACCOUNTS);
    private static final Access TOKENS = Access.inPerson(Permission.USE_TOKENS);

    /** What no other route takes. */
    private static final String REST = "/api/*";

    private final FleetResource fleet;
    private final MachineResource machines;
    private final AlertResource alerts;
    private final HoldResource holds;
    private final CaseResource cases;
    private final SiteLinkResource siteLinks;
    private final SiteCheckResource siteCheck;
    private final EventResource events;
    private final EventImport imports;
    private final WeatherImport weather;
    private final NoticeResource notices;
    private final WorkResource workReports;
    private final PhotoResource photos;
    private final WorkExport workExport;
    private final OutcomeExport outcomes;
    private final CareRecordResource careRecord;
    private final CommissioningResource commissioning;
    private final FiguresResource figures;
    private final VisitResource visits;
    private final NewVisitResource newVisits;
    private final CalendarResource calendars;
    private final RulesResource rules;
    private final ThresholdsResource thresholdSheet;
    private final MarkResource marks;
    private final StatusResource status;
    private final Machinery machinery;
    private final SystemResource system;
    private final SessionResource session;
    private final SecondFactorResource factor;
    private final OwnAccountResource own;
    private final AccountsResource accounts;
    private final GatewayResource gateways;
    private final ClaimResource claims;
    private final FirstLook firstLook;

    public Api(
            Fleet seen,
            SiteChecks siteChecks,
            CalendarLinks calendarLinks,
            RuleDesk ruleDesk,
            Thresholds thresholds,
            Bench bench,
            People people,
            GatewayDesk gatewayDesk,
            MachineClaims machineClaims,
            boolean demo,
            LiveHub hub,
            InstantSource clock,
            MeterRegistry meters,
            Supplier<HealthView> health,
            SystemWatch watch,
            Probes probes,
            String version,
            JsonMapper json) {
        Reply reply = new Reply(json, clock);
        Executor behind = KeptAnswers.behind();
        KeptAnswers<SiteScope, FleetResource.Listed> fleets =
                new KeptAnswers<>(hub::alertChanges, System::nanoTime, behind);
        KeptAnswers<AlertResource.Asked, AlertResource.Listed> lists =
                new KeptAnswers<>(hub::alertChanges, System::nanoTime, behind);
        // so that who changed something sees it
        Runnable forget = () -> {
            fleets.forget();
            lists.forget();
        };
        fleet = new FleetResource(seen, reply, fleets);
        machines = new MachineResource(seen, reply, clock);
        alerts = new AlertResource(seen, people.accounts(), thresholds, reply, lists, json, forget);
        holds = new HoldResource(seen, reply, json, forget);
        cases = new CaseResource(seen, reply, json);
        siteLinks = new SiteLinkResource(seen, reply, json);
        siteCheck = new SiteCheckResource(siteChecks, reply, json);
        events = new EventResource(seen, reply, json);
        imports = new EventImport(seen, reply);
        weather = new WeatherImport(seen, reply);
        notices = new NoticeResource(seen, reply, json);
        workReports = new WorkResource(seen, reply, clock, json);
        photos = new PhotoResource(seen, reply);
        workExport = new WorkExport(seen, reply);
        outcomes = new OutcomeExport(seen, reply);
        careRecord = new CareRecordResource(seen, reply);
        commissioning = new CommissioningResource(seen, reply, clock, json);
        figures = new FiguresResource(seen, reply, clock);
        visits = new VisitResource(seen, reply, json);
        newVisits = new NewVisitResource(seen, reply, json);
        calendars = new CalendarResource(calendarLinks, reply, json);
        rules = new RulesResource(ruleDesk, reply, json);
        thresholdSheet = new ThresholdsResource(bench, reply, json);
        marks = new MarkResource(seen, reply, clock, json);
        status = new StatusResource(health, clock, hub::viewers, version, json);
        machinery = new Machinery(probes, meters, json);
        system = new SystemResource(seen, reply, watch, meters, clock, json);
        session = new SessionResource(people, demo, reply, json);
        own = new OwnAccountResource(people, reply, json);
        factor = new SecondFactorResource(people, reply, json);
        accounts = new AccountsResource(people, reply, json);
        gateways = new GatewayResource(gatewayDesk, reply, json);
        claims = new ClaimResource(machineClaims, reply, json, forget);
        firstLook = new FirstLook(List.of(SEE_FLEET, SEE), fleet, session, status, json);
    }

    /** What the page of the fleet has in it. */
    public FirstLook firstLook() {
        return firstLook;
    }

    /** The data of a {@code clock} event as of now. */
    public String clockEvent() {
        return status.clockEvent();
    }

    public void install(RoutesConfig routes) {
        fleet(routes);
        work(routes);
        workReports(routes);
        visits(routes);
        people(routes);
        gateways(routes);
        rules(routes);
        thresholds(routes);
        routes.get("/api/v1/status", status::status, Access.OPEN)
                .get("/healthz", status::healthz, Access.OPEN)
                .get("/livez", machinery::live, Access.OPEN)
                .get("/readyz", machinery::ready, Access.OPEN)
                .get("/metrics", machinery::metrics, SYSTEM)
                .get("/api/v1/system", system::system, SYSTEM)
                .get("/api/v1/system/rejects", system::rejects, SYSTEM)
                .post(
                        "/api/v1/system/rejects/{id}/replay",
                        system::replay,
                        Access.mayForEverySite(Permission.REPLAY_REJECTS))
                .get("/api/v1/system/dead-letters", system::deadLetters, SYSTEM)
                .post(
                        "/api/v1/system/dead-letters/{id}/replay",
                        system::retake,
                        Access.mayForEverySite(Permission.REPLAY_REJECTS))
                .post("/api/v1/system/backup", system::backup, Access.mayForEverySite(Permission.BACK_UP))
                .get("/api/v1/system/unclaimed", system::unclaimed, SYSTEM)
                .get(REST, Api::nothing, Access.OPEN);
    }

    private void fleet(RoutesConfig routes) {
        routes.get("/api/v1/fleet", fleet::fleet, SEE_FLEET)
                .get("/api/v1/sites", fleet::sites, SEE)
                .get("/api/v1/machines/{id}", machines::machine, SEE)
                .get("/api/v1/machines/{id}/temperatures", machines::temperatures, SEE)
                .get("/api/v1/machines/{id}/cycles", machines::cycles, SEE)
                .get("/api/v1/machines/{id}/trace", machines::trace, SEE)
                .get("/api/v1/machines/{id}/care", machines::care, SEE)
                .get("/api/v1/machines/{id}/proofs", machines::proofs, SEE)
                .get("/api/v1/machines/{id}/events", events::ofMachine, SEE)
                .get("/api/v1/sites/{id}/events", events::ofSite, SEE)
                .get("/api/v1/questions", events::questions, SEE)
                .get("/api/v1/alerts", alerts::list, SEE)
                .get("/api/v1/alerts/{id}", alerts::one, SEE)
                .get("/api/v1/alerts/{id}/why", alerts::why, SEE)
                .get("/api/v1/cases", cases::list, SEE)
                .get("/api/v1/cases/{id}", cases::one, SEE)
                .get("/api/v1/site-links", siteLinks::list, SEE)
                .get("/api/v1/holds", holds::list, SEE)
                .get("/api/v1/notices", notices::list, SEE)
                .get("/api/v1/notices/{id}", notices::one, SEE)
                .get("/api/v1/receivers", notices::receivers, SEE);
    }

    private void work(RoutesConfig routes) {
        Access outOfService = Access.may(Permission.OUT_OF_SERVICE);
        routes.post("/api/v1/alerts/{id}/acknowledge", alerts::acknowledge, Access.may(Permission.ACKNOWLEDGE))
                .post("/api/v1/alerts/{id}/reset", alerts::reset, Access.may(Permission.RESET))
                .post("/api/v1/alerts/{id}/shelve", alerts::shelve, Access.may(Permission.SHELVE))
                .post("/api/v1/alerts/{id}/out-of-service", alerts::takeOutOfService, outOfService)
                .post("/api/v1/alerts/{id}/join", alerts::join, Access.may(Permission.CLOSE_CASE))
                .post("/api/v1/alerts/{id}/part", alerts::part, Access.may(Permission.CLOSE_CASE))
                .get("/api/v1/alerts/{id}/assignees", alerts::assignees, Access.may(Permission.ACKNOWLEDGE))
                .post("/api/v1/alerts/{id}/assign", alerts::assign, Access.may(Permission.ACKNOWLEDGE))
                .post("/api/v1/alerts/{id}/notes", alerts::comment, Access.may(Permission.ACKNOWLEDGE))
                .post("/api/v1/alerts/{id}/answers", alerts::answer, Access.may(Permission.ACKNOWLEDGE))
                .post("/api/v1/machines/{id}/out-of-service", holds::takeOutOfService, outOfService)
                .post("/api/v1/machines/{id}/events", events::reportOfMachine, Access.may(Permission.REPORT))
                .post("/api/v1/sites/{id}/events", events::reportOfSite, Access.may(Permission.REPORT))
                .post("/api/v1/events/import", imports::take, Access.may(Permission.REPORT))
                .post("/api/v1/weather", weather::take, Access.may(Permission.REPORT))
                .post("/api/v1/cases/{id}/close", cases::close, Access.may(Permission.CLOSE_CASE))
                .post("/api/v1/cases/{id}/site-links", siteLinks::make, Access.may(Permission.ACKNOWLEDGE))
                .post("/api/v1/site-links/{id}/revoke", siteLinks::revoke, Access.may(Permission.ACKNOWLEDGE))
                .post("/api/v1/site-check", siteCheck::look, Access.BY_LINK)
                .post("/api/v1/site-check/answers", siteCheck::answer, Access.BY_LINK)
                .post("/api/v1/site-check/weighed-harvests", siteCheck::weigh, Access.BY_LINK)
                .get("/api/v1/machines/{id}/weighed-harvests", events::weighed, SEE)
                .post("/api/v1/holds/{id}/end", holds::end, Access.may(Permission.SHELVE))
                .post("/api/v1/notices/{id}/retry", notices::retry, Access.may(Permission.NOTIFY))
                .post("/api/v1/receivers/{name}/test", notices::test, Access.may(Permission.NOTIFY));
    }

    private void workReports(RoutesConfig routes) {
        routes.post("/api/v1/machines/{id}/work-reports", workReports::report, Access.may(Permission.REPORT_WORK))
                .get("/api/v1/machines/{id}/work-reports", workReports::ofMachine, SEE)
                .get("/api/v1/work-reports/{id}", workReports::one, SEE)
                .get("/api/v1/work-reports/{id}/photos/{photo}", photos::get, SEE)
                .put("/api/v1/work-reports/{id}/photos/{photo}", photos::put, Access.may(Permission.REPORT_WORK))
                .get("/api/v1/refrigerant.csv", workExport::refrigerant, SEE)
                .get("/api/v1/figures", figures::figures, SEE)
                .get("/api/v1/work-not-held", figures::notHeld, SEE)
                .get("/api/v1/outcomes.csv", outcomes::outcomes, SEE)
                .get("/api/v1/missed-calls.csv", outcomes::missedCalls, SEE)
                .get("/api/v1/machines/{id}/commissioning", commissioning::look, SEE)
                .post("/api/v1/machines/{id}/commissioning", commissioning::report, Access.may(Permission.REPORT_WORK))
                .get("/api/v1/machines/{id}/care-record", careRecord::ofMachine, SEE)
                .get("/api/v1/machines/{id}/care-record.csv", careRecord::tableOfMachine, SEE)
                .get("/api/v1/sites/{id}/care-record", careRecord::ofSite, SEE)
                .get("/api/v1/sites/{id}/care-record.csv", careRecord::tableOfSite, SEE);
    }

    private void visits(RoutesConfig routes) {
        Access plan = Access.may(Permission.PLAN_VISITS);
        routes.get("/api/v1/visits", visits::list, SEE)
                .post("/api/v1/visits", newVisits::make, plan)
                .get("/api/v1/sites/{id}/visit-effect", newVisits::effect, plan)
                .get("/api/v1/visits/{id}", visits::one, SEE)
                .get("/api/v1/visits/{id}/effect", visits::effect, SEE)
                .post("/api/v1/visits/plan", visits::plan, plan)
                .post("/api/v1/visits/{id}/accept", visits::accept, plan)
                .post("/api/v1/visits/{id}/move", visits::move, plan)
                .post("/api/v1/visits/{id}/release", visits::release, plan)
                .post("/api/v1/visits/{id}/cancel", visits::cancel, plan)
                .post("/api/v1/visits/{id}/done", visits::done, Access.may(Permission.REPORT))
                .get("/api/v1/calendars", calendars::list, Access.inPerson(Permission.SEE))
                .post("/api/v1/calendars", calendars::make, Access.inPerson(Permission.SEE))
                .delete("/api/v1/calendars/{id}", calendars::revoke, Access.inPerson(Permission.SEE))
                .get("/calendar/{name}", calendars::read, Access.OPEN);
    }

    /** Rules are of the whole firm: everybody may read them, and only who sees every site may change them. */
    private void rules(RoutesConfig routes) {
        Access edit = Access.mayForEverySite(Permission.EDIT_RULES);
        routes.get("/api/v1/rules", rules::list, SEE)
                .get("/api/v1/rules/{book}", rules::one, SEE)
                .get("/api/v1/rules/{book}/versions", rules::versions, SEE)
                .get("/api/v1/rules/{book}/versions/{version}", rules::version, SEE)
                .post("/api/v1/rules/{book}/check", rules::check, edit)
                .put("/api/v1/rules/{book}", rules::save, edit)
                .post("/api/v1/rules/{book}/roll-back", rules::rollBack, edit);
    }

    /** Numbers name no site, so that everybody may read them; what they did to machines is of every site. */
    private void thresholds(RoutesConfig routes) {
        Access edit = Access.mayForEverySite(Permission.EDIT_THRESHOLDS);
        Access seeAll = Access.mayForEverySite(Permission.SEE);
        routes.get("/api/v1/thresholds", thresholdSheet::sheet, SEE)
                .put("/api/v1/thresholds", thresholdSheet::change, edit)
                .post("/api/v1/thresholds/roll-back", thresholdSheet::rollBack, edit)
                .get("/api/v1/thresholds/versions", thresholdSheet::versions, SEE)
                .get("/api/v1/thresholds/versions/{number}", thresholdSheet::version, SEE)
                .get("/api/v1/thresholds/trials", thresholdSheet::trials, seeAll)
                .post("/api/v1/thresholds/trials", thresholdSheet::tryOut, edit)
                .get("/api/v1/thresholds/trials/{id}", thresholdSheet::trial, seeAll)
                .post("/api/v1/thresholds/trials/{id}/promote", thresholdSheet::promote, edit)
                .post("/api/v1/thresholds/trials/{id}/drop", thresholdSheet::drop, edit)
                .get("/api/v1/thresholds/runs", thresholdSheet::runs, seeAll)
                .post("/api/v1/thresholds/runs", thresholdSheet::start, edit)
                .get("/api/v1/thresholds/runs/{id}", thresholdSheet::run, seeAll)
                .delete("/api/v1/thresholds/runs/{id}", thresholdSheet::cancel, edit)
                .post("/api/v1/thresholds/effects", thresholdSheet::moved, edit)
                .get("/api/v1/thresholds/effects/{id}", thresholdSheet::effect, edit)
                .post("/api/v1/thresholds/file", thresholdSheet::file, edit)
                .get("/api/v1/thresholds/fleet", thresholdSheet::looks, seeAll)
                .post("/api/v1/thresholds/fleet", thresholdSheet::look, seeAll)
                .delete("/api/v1/thresholds/fleet", thresholdSheet::endLook, seeAll);
        // of a machine, so that each sees and marks those of its own sites
        Access mark = Access.may(Permission.EDIT_THRESHOLDS);
        routes.get("/api/v1/marks", marks::list, SEE)
                .get("/api/v1/marks.csv", marks::export, SEE)
                .post("/api/v1/marks", marks::add, mark)
                .delete("/api/v1/marks/{id}", marks::withdraw, mark);
    }

    private void gateways(RoutesConfig routes) {
        Access manage = Access.mayForEverySite(Permission.MANAGE_GATEWAYS);
        routes.get("/api/v1/gateway-credentials", gateways::list, manage)
                .post("/api/v1/gateways/{id}/credentials", gateways::add, manage)
                .post("/api/v1/gateways/{id}/credentials/rotate", gateways::rotate, manage)
                .post("/api/v1/gateways/{id}/credentials/revoke", gateways::revoke, manage);
        // a machine may be put anywhere, also on a site that is not there yet
        Access claim = Access.mayForEverySite(Permission.CLAIM_MACHINES);
        routes.get("/api/v1/claims", claims::list, claim)
                .post("/api/v1/claims", claims::claim, claim)
                .delete("/api/v1/claims/{id}", claims::release, claim);
    }

    private void people(RoutesConfig routes) {
        routes.post("/api/v1/session", session::signIn, Access.OPEN)
                .get("/api/v1/session", session::me, Access.KNOWN)
                .delete("/api/v1/session", session::signOut, Access.IN_PERSON)
                .post("/api/v1/set-up", session::setUp, Access.OPEN)
                .post("/api/v1/password", session::choosePassword, Access.OPEN)
                .get("/api/v1/demo/accounts", session::demoAccounts, Access.OPEN)
                .post("/api/v1/demo/session", session::enterDemo, Access.OPEN)
                .post("/api/v1/account/password", own::changePassword, Access.IN_PERSON)
                .get("/api/v1/account/second-factor", factor::look, Access.IN_PERSON)
                .post("/api/v1/account/second-factor", factor::propose, Access.IN_PERSON)
                .post("/api/v1/account/second-factor/confirm", factor::confirm, Access.IN_PERSON)
                .post("/api/v1/account/second-factor/recovery-codes", factor::renewCodes, Access.IN_PERSON)
                .post("/api/v1/account/second-factor/remove", factor::remove, Access.IN_PERSON)
                .get("/api/v1/account/sessions", own::sessions, Access.IN_PERSON)
                .delete("/api/v1/account/sessions/{id}", own::endSession, Access.IN_PERSON)
                .get("/api/v1/tokens", own::tokens, TOKENS)
                .post("/api/v1/tokens", own::makeToken, TOKENS)
                .delete("/api/v1/tokens/{id}", own::revokeToken, TOKENS)
                .get("/api/v1/roles", accounts::roles, SEE)
                .get("/api/v1/accounts", accounts::list, MANAGE)
                .post("/api/v1/accounts", accounts::create, MANAGE)
                .post("/api/v1/accounts/{id}", accounts::change, MANAGE)
                .post("/api/v1/accounts/{id}/second-factor/remove", accounts::removeFactor, MANAGE)
                .post("/api/v1/accounts/{id}/link", accounts::link, MANAGE);
    }

    private static void nothing(Context ctx) {
        throw Problem.notFound("No resource at " + ctx.path() + '.').asException();
    }
}
