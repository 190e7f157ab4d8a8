package dev.rimecast.dashboard.bench;

import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * What changed numbers would have made of the last months: first from some sites, then from more, until it is of all.
 *
 * @param state {@code preparing}: readings are gone through once; {@code running}: each look may have more sites; {@code done},
 *     {@code failed} or {@code ended}: something else was asked meanwhile
 * @param days that are judged
 * @param problem why it failed
 * @param progress of preparing
 * @param counted numbers whose effect is in {@code seen}
 * @param limits numbers that are counted from stored cycles
 * @param needReadings numbers that neither shows: their effect takes a question to the past
 */
public record Effect(
        int id,
        String state,
        int days,
        Optional<String> problem,
        Optional<Progress> progress,
        List<String> counted,
        List<Limit> limits,
        List<String> needReadings,
        Optional<Seen> seen) {

    public Effect {
        counted = List.copyOf(counted);
        limits = List.copyOf(limits);
        needReadings = List.copyOf(needReadings);
    }

    /** The same, ended by a failure of ours or of the history's. */
    public Effect failed(String why) {
        return new Effect(
                id,
                "failed",
                days,
                Optional.of(why),
                Optional.empty(),
                counted,
                limits,
                needReadings,
                Optional.empty());
    }

    public Effect at(Optional<Progress> far) {
        return new Effect(id, state, days, problem, far, counted, limits, needReadings, seen);
    }

    /**
     * How many cycles reached a limit, and of how many machines.
     *
     * @param path of the number
     */
    public record Limit(
            String path, long currentCycles, long currentMachines, long candidateCycles, long candidateMachines) {}

    /**
     * The sites that were decided anew so far.
     *
     * @param otherSites of these, those where any alert is otherwise
     * @param currentAlerts alerts about machines of these sites by the numbers in force, whether or not anybody knows if they were right
     * @param current figures of these sites by the numbers in force
     * @param alertsOfAll alerts about machines of the whole fleet by the numbers in force
     * @param fleet what that says of all sites; absent while it says too little
     */
    public record Seen(
            Instant from,
            Instant to,
            int sites,
            int allSites,
            int machines,
            int allMachines,
            int otherSites,
            double machineYears,
            int currentAlerts,
            int candidateAlerts,
            Run.Figures current,
            Run.Figures candidate,
            int alertsOfAll,
            Optional<Fleet> fleet) {}

    /** Alerts more than by the numbers in force, with the ends of its 90 % interval; equal where every site was seen. */
    public record Fleet(double more, double low, double high) {}
}
