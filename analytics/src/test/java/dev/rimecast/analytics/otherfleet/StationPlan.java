package dev.rimecast.analytics.otherfleet;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * One machine as it will be: where, how built, how used, cared for when, and what goes wrong.
 *
 * @param placeKelvin how much warmer its corner is than the room
 * @param drawKgPerBusyHour ice taken in an hour in which the place is as busy as it gets
 */
record StationPlan(
        Machine register,
        Design design,
        Sensors.Quality quality,
        Set<Channel> channels,
        double placeKelvin,
        double drawKgPerBusyHour,
        List<Double> cleaningsSeconds,
        List<Double> washingsSeconds,
        Optional<Fault> fault) {}
