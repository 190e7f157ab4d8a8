package dev.rimecast.analytics.making;

/**
 * What the other machines of a site do, as one of them sees it at the end of an hour.
 *
 * @param areThere whether there are any that have made ice
 * @param isStill none of them has made ice for hours
 * @param isAnyInARun one of them has made more ice since its bin was full than melts
 * @param isAnyAtIt one of them has ended a cycle within the hour
 * @param areAllMaking all of them have made ice in the last hours
 * @param isOneOut one of them makes no ice, so that people take from this machine what they took from that
 * @param areOffTogether all of them, and this one, say that they were switched off, at about the same time
 * @param isFirst this one comes before them, and speaks for all
 * @param isClosedDay nobody is there, since it is a day on which the site is closed
 */
public record Beside(
        boolean areThere,
        boolean isStill,
        boolean isAnyInARun,
        boolean isAnyAtIt,
        boolean areAllMaking,
        boolean isOneOut,
        boolean areOffTogether,
        boolean isFirst,
        boolean isClosedDay) {}
