package dev.rimecast.analytics.fourthfleet;

import java.util.ArrayList;
import java.util.List;

/** A site that has been drawn, before it lives. */
final class SiteDraft {
    final String id;
    final Climate climate;
    final Opening opening;
    final boolean offAtNight;
    final boolean gatewayOffToo;
    /** Use of each day against the usual. */
    final List<Double> dayUse;
    /** For each gateway, when its link is down. */
    final List<List<Gateway.Gap>> gaps;

    final List<Room> rooms;
    final Logbook logbook;
    final List<MachineDraft> machines = new ArrayList<>();

    SiteDraft(
            String id,
            Climate climate,
            Opening opening,
            boolean offAtNight,
            boolean gatewayOffToo,
            List<Double> dayUse,
            List<List<Gateway.Gap>> gaps,
            List<Room> rooms) {
        this.id = id;
        this.climate = climate;
        this.opening = opening;
        this.offAtNight = offAtNight;
        this.gatewayOffToo = gatewayOffToo;
        this.dayUse = dayUse;
        this.gaps = gaps;
        this.rooms = rooms;
        this.logbook = new Logbook(id);
    }
}
