package dev.rimecast.dashboard.live;

/**
 * One line to look at again, or the time of the product's clock.
 *
 * @param number counts from 1 since the start; 0 for what is never repeated
 * @param kind {@code alert}, {@code cycle}, {@code reading}, {@code visit} or {@code clock}
 * @param site where it is; empty for the clock
 * @param subject what a newer event of the same kind replaces: a machine, else an alert
 * @param data JSON on one line
 */
record LiveEvent(long number, String kind, String site, String machine, String subject, String data) {}
