package dev.rimecast.analytics.making;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.log.EventKind;

/** What people and the other machines on the site do around one machine. */
final class Around {
    private static final double HOUR_MILLIS = 3_600_000;
    private static final double AFTER_CLEANING_HOURS = 3;
    /** A full bin that melts makes a machine run now and then on quiet days, too, but not all of them all the time. */
    private static final int BUSY_HOURS = 8;
    /** What replaces what has melted takes an hour or two, and then hours go by. */
    private static final int HOURS_AT_IT = 4;

    private static final int HOURS_AT_IT_SHIFT = 4;
    private static final int BUSY_MASK = 0xF;

    private static final int CLOSED = 1;
    private static final int CLOSED_DAY = 2;
    private static final int FIRST = 4;
    private static final int TOGETHER_SHIFT = 3;
    /** Whoever opens goes from machine to machine; h, beginning with the last one in which all were off. */
    private static final int TOGETHER_HOURS = 3;

    private static final long AFTER_TROUBLE_MILLIS = 3 * 86_400_000L;
    private static final long NONE = Long.MIN_VALUE;

    private boolean closed;
    private boolean isClosedDay;
    /** Whether this machine speaks for all that were switched off together. */
    private boolean isFirst;
    /** Hours for which that holds still. */
    private int togetherHours;

    private long workAt = NONE;
    private long cleanedAt = NONE;
    private int busyHours;
    /** Of the last hours those in which one of the others ended a cycle, less those in which none did; neither below 0 nor beyond {@value #HOURS_AT_IT}. */
    private int hoursAtIt;

    private Site site = Site.UNKNOWN;
    private long neighbourOutAt = NONE;

    /** What the other machines say of the site. */
    enum Site {
        /** There are no others, or they differ. */
        UNKNOWN,
        /** None of them has made ice for hours, and since then no more than melts: nobody takes any. */
        QUIET,
        /** All of them have, for hours. */
        BUSY
    }

    /** Something has happened; returns whether it is work on the machine. */
    boolean happened(EventKind kind, long millis) {
        return switch (kind) {
            case CLEANED -> {
                cleanedAt = millis;
                workAt = millis;
                yield true;
            }
            case VISIT, AIR_FILTER_WASHED, PART_REPLACED, SENSOR_REPLACED, CONTROLLER_REPLACED -> {
                workAt = millis;
                yield true;
            }
            case CLOSED_FROM -> {
                closed = true;
                yield false;
            }
            case CLOSED_TO -> {
                closed = false;
                yield false;
            }
            case CALL, WATER_FILTER_CHANGED, LAMP_CHANGED, MOVED, EXCHANGED, SITE_ANSWER, HARVEST_WEIGHED -> false;
        };
    }

    void neighbours(Beside others, long millis) {
        busyHours = others.areAllMaking() ? Math.min(BUSY_HOURS, busyHours + 1) : 0;
        hoursAtIt = others.isAnyAtIt() ? Math.min(HOURS_AT_IT, hoursAtIt + 1) : Math.max(0, hoursAtIt - 1);
        boolean isSeldom = hoursAtIt == 0 || (site == Site.QUIET && hoursAtIt < HOURS_AT_IT);
        if (others.isStill() || (others.areThere() && !others.isAnyInARun() && isSeldom)) {
            site = Site.QUIET;
        } else {
            site = busyHours >= BUSY_HOURS ? Site.BUSY : Site.UNKNOWN;
        }
        isClosedDay = others.isClosedDay();
        isFirst = others.isFirst();
        togetherHours = others.areOffTogether() ? TOGETHER_HOURS : Math.max(0, togetherHours - 1);
        if (others.isOneOut()) {
            neighbourOutAt = millis;
        }
    }

    /** By what was written down: who calls on another day is there. */
    boolean isClosedByWord() {
        return closed;
    }

    /** By what was written down, or since it is so on this day of each week. */
    boolean isClosed() {
        return closed || isClosedDay;
    }

    /** Whether the whole site was switched off together, and not long ago was so still. */
    boolean isOffTogether() {
        return togetherHours > 0;
    }

    /** Whether this machine is the one to say so: all are off still. */
    boolean speaksForAll() {
        return isFirst && togetherHours == TOGETHER_HOURS;
    }

    Site site() {
        return site;
    }

    boolean wasWorkedOnSince(long millis) {
        return workAt != NONE && workAt >= millis;
    }

    /** Whether the machine was cleaned since shortly before so many hours ago. */
    boolean isAfterCleaning(double hoursAgo, long millis) {
        return cleanedAt != NONE && cleanedAt >= millis - (hoursAgo + AFTER_CLEANING_HOURS) * HOUR_MILLIS;
    }

    /** Whether people have lately taken from this machine what a neighbour did not make. */
    boolean isShared(long millis) {
        return neighbourOutAt != NONE && millis - neighbourOutAt <= AFTER_TROUBLE_MILLIS;
    }

    void save(StateWriter out) {
        out.u8((closed ? CLOSED : 0)
                        | (isClosedDay ? CLOSED_DAY : 0)
                        | (isFirst ? FIRST : 0)
                        | togetherHours << TOGETHER_SHIFT)
                .time(workAt)
                .time(cleanedAt)
                .u8(busyHours | hoursAtIt << HOURS_AT_IT_SHIFT)
                .u8(site.ordinal())
                .time(neighbourOutAt);
    }

    static Around restore(StateReader in) {
        Around around = new Around();
        int closed = in.u8();
        around.closed = (closed & CLOSED) != 0;
        around.isClosedDay = (closed & CLOSED_DAY) != 0;
        around.isFirst = (closed & FIRST) != 0;
        around.togetherHours = closed >> TOGETHER_SHIFT;
        around.workAt = in.time();
        around.cleanedAt = in.time();
        int hours = in.u8();
        around.busyHours = hours & BUSY_MASK;
        around.hoursAtIt = hours >> HOURS_AT_IT_SHIFT;
        around.site = Site.values()[in.u8()];
        around.neighbourOutAt = in.time();
        return around;
    }
}
