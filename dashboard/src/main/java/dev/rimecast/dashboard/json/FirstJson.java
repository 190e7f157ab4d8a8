package dev.rimecast.dashboard.json;

import dev.rimecast.dashboard.json.PeopleJson.MeJson;

/**
 * What the first page has in it, so that its rows are drawn before any request: the same members that the API would answer.
 *
 * @param session without the forgery token, which no page holds
 * @param fleet the first of its rows; {@code total} counts them all
 */
public record FirstJson(StatusJson status, MeJson session, FleetJson fleet) {

    /** Whether there are no other rows. */
    public boolean isWhole() {
        return fleet.machines().size() == fleet.total();
    }
}
