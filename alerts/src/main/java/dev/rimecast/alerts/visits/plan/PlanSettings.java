package dev.rimecast.alerts.visits.plan;

/**
 * @param horizonDays a date further away makes no trip yet
 * @param careGraceDays how long care that is due waits for another trip before it makes its own
 * @param spareDays a trip is this much before its latest date, where it can be
 * @param travelMinutes to a site and back; counted in an engineer's day
 * @param settleDays after a visit, how long what it was for is left alone
 */
public record PlanSettings(int horizonDays, int careGraceDays, int spareDays, int travelMinutes, int settleDays) {
    public static final PlanSettings STANDARD = new PlanSettings(14, 14, 1, 60, 1);
}
