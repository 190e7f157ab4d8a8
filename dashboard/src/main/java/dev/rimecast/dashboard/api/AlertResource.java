package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.people.Accounts;
import dev.rimecast.alerts.view.Action;
import dev.rimecast.alerts.view.Actions.Outcome;
import dev.rimecast.alerts.view.AlertFilter;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.ListPlace;
import dev.rimecast.alerts.view.ProofView;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.Thresholds;
import dev.rimecast.alerts.view.Views;
import dev.rimecast.dashboard.access.Fleet;
import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.http.ListPage;
import dev.rimecast.dashboard.http.Payload;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.Query;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.AlertJson;
import dev.rimecast.dashboard.json.AlertSummaryJson;
import dev.rimecast.dashboard.json.WhyJson;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.proof.Proof;
import dev.rimecast.telemetry.proof.Verdict;
import io.javalin.http.Context;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import tools.jackson.databind.json.JsonMapper;

/** {@code /api/v1/alerts}: the list, one alert, and what people do with one. */
final class AlertResource {
    private static final int DEFAULT_LIMIT = 500;
    private static final int MOST = 10_000;
    /** Whoever says no more than this asks for what every screen begins with; all else could be asked in any number of ways. */
    private static final Map<String, String> BEGINNING =
            Map.of("open", "true", "detail", "false", "limit", String.valueOf(DEFAULT_LIMIT));

    /** Twice as long as work is looked at. */
    private static final Duration WORK_BEFORE = Duration.ofDays(60);

    private static final int MOST_WORK = 20;

    private final Fleet fleet;
    private final Accounts accounts;
    private final Reply reply;
    private final JsonMapper json;
    private final Runnable changed;
    private final Thresholds thresholds;
    private final KeptAnswers<Asked, Listed> kept;

    /**
     * A question for the list.
     *
     * @param address with its query
     */
    record Asked(SiteScope sites, String address) {}

    /** @param next the header that names the next page, where there is one */
    record Listed(Payload payload, Optional<String> next) {
        private Listed packedNow() {
            return new Listed(payload.packedNow(), next);
        }
    }

    /** @param changed called after somebody changed something */
    AlertResource(
            Fleet fleet,
            Accounts accounts,
            Thresholds thresholds,
            Reply reply,
            KeptAnswers<Asked, Listed> kept,
            JsonMapper json,
            Runnable changed) {
        this.kept = kept;
        this.thresholds = thresholds;
        this.fleet = fleet;
        this.accounts = accounts;
        this.reply = reply;
        this.json = json;
        this.changed = changed;
    }

    /** Briefly, or with {@code detail=true} with evidence, advice and history. All that is open, briefly, is kept: every screen begins with that. */
    void list(Context ctx) {
        AlertFilter filter = new AlertFilter(
                Query.flag(ctx, "open", true),
                Query.id(ctx, "site"),
                Query.id(ctx, "machine"),
                Query.coded(ctx, "condition", Condition.values(), Condition::code),
                Query.coded(ctx, "priority", Priority.values(), Priority::code));
        boolean detail = Query.flag(ctx, "detail", false);
        Function<AlertView, Object> form = detail ? AlertJson::of : AlertSummaryJson::of;
        ListPage<ListPlace> page = ListPage.of(ctx, DEFAULT_LIMIT, MOST, ListPlace::parse);
        Views views = fleet.views(ctx);
        Listed list = isBeginning(ctx)
                ? kept.of(
                        new Asked(fleet.sites(ctx), page.address()),
                        () -> listed(views, filter, page, form).packedNow())
                : listed(views, filter, page, form);
        list.next().ifPresent(link -> ctx.header(ListPage.LINK, link));
        reply.json(ctx, list.payload());
    }

    private static boolean isBeginning(Context ctx) {
        return ctx.queryParamMap().entrySet().stream()
                .allMatch(given ->
                        given.getValue().size() == 1 && given.getValue().get(0).equals(BEGINNING.get(given.getKey())));
    }

    private Listed listed(Views views, AlertFilter filter, ListPage<ListPlace> page, Function<AlertView, Object> form) {
        List<AlertView> read = views.alerts(SiteScope.EVERY, filter, page.after(), page.toRead());
        Payload payload = reply.payload(page.shown(read).stream().map(form).toList());
        return new Listed(
                payload, page.next(read, alert -> ListPlace.behind(alert).text()));
    }

    void one(Context ctx) {
        UUID id = id(ctx);
        AlertView alert = fleet.views(ctx).alert(id).orElseThrow(() -> unknown(id));
        reply.json(ctx, AlertJson.of(alert, notHeld(ctx, alert)));
    }

    /** What was done for nothing shortly before it was raised, or while it stood, speaks for whoever goes there next. */
    private List<Proof> notHeld(Context ctx, AlertView alert) {
        Finding finding = alert.finding();
        if (finding.condition().isCare()) {
            return List.of();
        }
        Instant from = finding.raisedAt().minus(WORK_BEFORE);
        return finding.machine().stream()
                .flatMap(machine -> fleet.views(ctx).proofs(machine, MOST_WORK).stream())
                .map(ProofView::proof)
                .filter(proof -> proof.verdict() == Verdict.NOT_HELD)
                .filter(proof -> proof.workedAt().isAfter(from)
                        && alert.clearedAt().filter(proof.workedAt()::isAfter).isEmpty())
                .toList();
    }

    /** What was seen when it was raised, and the numbers that decided. */
    void why(Context ctx) {
        UUID id = id(ctx);
        AlertView alert = fleet.views(ctx).alert(id).orElseThrow(() -> unknown(id));
        Finding first = fleet.views(ctx).raised(id).orElse(alert.finding());
        reply.json(ctx, WhyJson.of(alert, first, thresholds));
    }

    void acknowledge(Context ctx) {
        act(ctx, body -> new Action.Acknowledge(body.text("note")));
    }

    void reset(Context ctx) {
        act(ctx, body -> new Action.Reset(body.text("note")));
    }

    void shelve(Context ctx) {
        act(ctx, body -> new Action.Shelve(body.required("reason"), body.instant("until")));
    }

    /** Into another open case of its site. */
    void join(Context ctx) {
        act(
                ctx,
                body -> new Action.Join(
                        body.uuid("case")
                                .orElseThrow(() -> Problem.badBody("case is missing: send the identifier of the case")
                                        .asException()),
                        body.required("reason")));
    }

    /** Out of its case, into one of its own. */
    void part(Context ctx) {
        act(ctx, body -> new Action.Part(body.required("reason")));
    }

    void takeOutOfService(Context ctx) {
        act(ctx, body -> new Action.TakeOutOfService(body.required("reason"), body.required("permittedBy")));
    }

    /** Names of who could have it. */
    void assignees(Context ctx) {
        reply.json(ctx, whoCanHave(ctx));
    }

    private List<String> whoCanHave(Context ctx) {
        UUID id = id(ctx);
        AlertView alert = fleet.views(ctx).alert(id).orElseThrow(() -> unknown(id));
        return accounts.whoCanHave(alert.finding().site());
    }

    /** To one of {@code assignees}; to nobody, where {@code to} is left out. */
    void assign(Context ctx) {
        List<String> names = whoCanHave(ctx);
        act(ctx, body -> {
            Optional<String> to = Optional.of(body.text("to")).filter(name -> !name.isEmpty());
            to.filter(name -> !names.contains(name)).ifPresent(name -> {
                throw Problem.badBody("to must be one of the alert's assignees").asException();
            });
            return new Action.Assign(to, body.text("note"));
        });
    }

    void comment(Context ctx) {
        UUID id = id(ctx);
        Body body = Body.of(ctx, json);
        outcome(ctx, id, fleet.actions(ctx).comment(id, Gate.visitor(ctx).person(), body.required("text")));
    }

    /** An answer is about the machine, not about how the alert stands: it needs no version. */
    void answer(Context ctx) {
        UUID id = id(ctx);
        Body body = Body.of(ctx, json);
        String question = body.required("question");
        String answer = body.required("answer");
        try {
            outcome(ctx, id, fleet.inquiries(ctx).answer(id, Gate.visitor(ctx).person(), question, answer));
        } catch (IllegalArgumentException e) {
            throw Problem.badBody(e.getMessage() + ": take one of the alert's question")
                    .asException();
        }
    }

    private void act(Context ctx, Function<Body, Action> action) {
        UUID id = id(ctx);
        Body body = Body.of(ctx, json);
        outcome(
                ctx,
                id,
                fleet.actions(ctx).act(id, body.version(), Gate.visitor(ctx).person(), action.apply(body)));
    }

    private void outcome(Context ctx, UUID id, Outcome outcome) {
        if (outcome instanceof Outcome.Done done) {
            changed.run();
            reply.json(ctx, AlertJson.of(done.alert()));
        } else if (outcome instanceof Outcome.Changed changedMeanwhile) {
            throw conflict(
                    "alert-changed",
                    "Somebody else, or the machine, was faster. The alert as it stands is attached.",
                    changedMeanwhile.alert());
        } else if (outcome instanceof Outcome.NotAllowed notAllowed) {
            throw conflict("not-allowed", notAllowed.reason(), notAllowed.alert());
        } else {
            throw unknown(id);
        }
    }

    private static RuntimeException conflict(String code, String detail, AlertView current) {
        return new Problem(
                        409, code, "The alert is not as you saw it", detail, Map.of("current", AlertJson.of(current)))
                .asException();
    }

    private static UUID id(Context ctx) {
        try {
            return UUID.fromString(ctx.pathParam("id"));
        } catch (IllegalArgumentException e) {
            throw Problem.notFound("That is not the identifier of an alert.").asException();
        }
    }

    private static RuntimeException unknown(UUID id) {
        return Problem.notFound("No alert " + id + '.').asException();
    }
}
