package dev.rimecast.history;

/**
 * How the history is.
 *
 * @param isWell whether what is read gets written
 * @param inWords what is wrong, or how large it is
 */
public record HistoryHealth(boolean isWell, String inWords) {}
