package dev.rimecast.alerts.keep;

/**
 * What only one instance does at a time. The others come by, find it taken and leave it.
 */
@FunctionalInterface
public interface Turn {
    /** Where there is no other instance. */
    Turn ALWAYS = Runnable::run;

    /** Does the work if nobody is at it; else nothing. */
    void take(Runnable work);
}
