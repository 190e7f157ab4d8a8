package dev.rimecast.alerts.visits;

import dev.rimecast.alerts.visits.plan.Trip;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;

/** Which proposed visit a newly planned trip is: the one with which it shares the most. */
final class VisitMatching {
    private record Pair(Trip trip, Visit visit, long shared) {}

    private VisitMatching() {}

    /** Each trip that is a visit already, with that visit; no visit twice. */
    static Map<Trip, Visit> of(List<Trip> trips, List<Visit> proposed) {
        List<Pair> pairs = new ArrayList<>();
        for (Trip trip : trips) {
            for (Visit visit : proposed) {
                Set<String> known = visit.needIds();
                long shared = trip.needs().stream()
                        .filter(planned -> known.contains(planned.need().id()))
                        .count();
                if (shared > 0 && trip.site().equals(visit.site())) {
                    pairs.add(new Pair(trip, visit, shared));
                }
            }
        }
        pairs.sort(Comparator.comparingLong(Pair::shared)
                .reversed()
                .thenComparing(pair -> pair.visit().id())
                .thenComparing(pair -> pair.trip().day()));
        Map<Trip, Visit> matched = new LinkedHashMap<>();
        Set<Visit> taken = new HashSet<>();
        for (Pair pair : pairs) {
            if (!matched.containsKey(pair.trip()) && taken.add(pair.visit())) {
                matched.put(pair.trip(), pair.visit());
            }
        }
        return matched;
    }
}
