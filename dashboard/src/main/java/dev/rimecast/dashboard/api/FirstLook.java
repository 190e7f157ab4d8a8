package dev.rimecast.dashboard.api;

import dev.rimecast.dashboard.access.Access;
import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.http.Pages;
import dev.rimecast.dashboard.json.FirstJson;
import io.javalin.http.Context;
import java.util.List;
import java.util.Optional;
import tools.jackson.databind.json.JsonMapper;

/**
 * The data that the first page has in it: for nobody but whom the routes of the API would answer, and of nothing but the sites that they
 * may see.
 */
public final class FirstLook {
    private final List<Access> rules;
    private final FleetResource fleet;
    private final SessionResource session;
    private final StatusResource status;
    private final JsonMapper json;

    /** @param rules of the routes that answer the same, all of which hold here */
    FirstLook(
            List<Access> rules, FleetResource fleet, SessionResource session, StatusResource status, JsonMapper json) {
        this.rules = rules;
        this.fleet = fleet;
        this.session = session;
        this.status = status;
        this.json = json;
    }

    /** Empty where the visitor may not see the fleet, or it would take too long: the page then asks for it. */
    public Optional<Pages.Data> of(Context ctx) {
        if (!rules.stream().allMatch(rule -> Gate.lets(ctx, rule))) {
            return Optional.empty();
        }
        return fleet.first(ctx).map(rows -> {
            FirstJson first = new FirstJson(status.asked(ctx), session.shown(ctx), rows);
            return new Pages.Data(json.writeValueAsString(first), first.isWhole());
        });
    }
}
