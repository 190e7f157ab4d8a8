package dev.rimecast.simulator.trial;

import dev.rimecast.telemetry.log.SiteRecord.Happened;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/** Events of several lists in one, by time. */
final class InOrder {
    private InOrder() {}

    static List<Happened> of(List<Happened> a, List<Happened> b) {
        List<Happened> all = new ArrayList<>(a);
        all.addAll(b);
        all.sort(Comparator.comparing(Happened::at));
        return all;
    }
}
