package dev.rimecast.analytics.fourthfleet;

import dev.rimecast.telemetry.machine.Channel;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;

/** A machine that has been drawn, before it lives: its fault is dealt when the whole fleet is known. */
final class MachineDraft {
    final String id;
    final SiteDraft site;
    final int room;
    final int gateway;
    final Traits traits;
    final Care care;
    final Use use;
    final Papers papers;
    final Set<Channel> channels;
    final List<Long> cleanings;
    final double drainRunOnSeconds;
    boolean logsCleanings;
    Fault fault = Fault.NONE;

    /** Dust and scale of a sound machine, and how its filter is looked after. */
    record Care(
            boolean washesFilter,
            double washEveryDays,
            long firstWash,
            double dustPerDay,
            double scalePerDay,
            double firstDust,
            double firstScale) {}

    /** Bin, and how much of the rated ice is used. */
    record Use(double binKg, double firstBinKg, double share) {}

    record Papers(String serial, LocalDate installed) {}

    MachineDraft(
            String id,
            SiteDraft site,
            int room,
            int gateway,
            Traits traits,
            Care care,
            Use use,
            Papers papers,
            Set<Channel> channels,
            List<Long> cleanings,
            boolean logsCleanings,
            double drainRunOnSeconds) {
        this.id = id;
        this.site = site;
        this.room = room;
        this.gateway = gateway;
        this.traits = traits;
        this.care = care;
        this.use = use;
        this.papers = papers;
        this.channels = channels;
        this.cleanings = new ArrayList<>(cleanings);
        this.logsCleanings = logsCleanings;
        this.drainRunOnSeconds = drainRunOnSeconds;
    }

    boolean isSound() {
        return fault.kind() == FaultKind.NONE;
    }
}
