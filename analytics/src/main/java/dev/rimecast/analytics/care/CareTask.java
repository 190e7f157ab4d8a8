package dev.rimecast.analytics.care;

import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.machine.Machine;
import java.time.LocalDate;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;

/** What is to be done again and again. The order is part of the state's layout. */
enum CareTask {
    CLEANING(Condition.CLEANING_DUE, EventKind.CLEANED, PolicyNumber.CLEANING_DAYS, "Cleaning"),
    AIR_FILTER(Condition.AIR_FILTER_DUE, EventKind.AIR_FILTER_WASHED, PolicyNumber.AIR_FILTER_DAYS, "The air filter"),
    WATER_FILTER(
            Condition.WATER_FILTER_DUE,
            EventKind.WATER_FILTER_CHANGED,
            PolicyNumber.WATER_FILTER_DAYS,
            "The water filter"),
    LAMP(Condition.LAMP_DUE, EventKind.LAMP_CHANGED, PolicyNumber.LAMP_DAYS, "The ultraviolet lamp"),
    /** Part of some cleanings, and not of others: the detail of the event tells. It is a cleaning that is due, and the words say which. */
    DESCALING(Condition.CLEANING_DUE, EventKind.CLEANED, PolicyNumber.DESCALING_DAYS, "Descaling");

    /** How the detail of a cleaning begins with which the machine was descaled, too. */
    private static final String DESCALED = "descaled";

    /** From this layout of a machine's state on it has descaling. */
    private static final int WITH_DESCALING = 15;

    private static final CareTask[] VALUES = values();

    private final Condition condition;
    private final EventKind done;
    private final PolicyNumber interval;
    private final String name;

    CareTask(Condition condition, EventKind done, PolicyNumber interval, String name) {
        this.condition = condition;
        this.done = done;
        this.interval = interval;
        this.name = name;
    }

    Condition condition() {
        return condition;
    }

    /** Whether an event says that it was done. */
    boolean isDoneBy(EventKind kind, String detail) {
        return kind == done && (this != DESCALING || detail.startsWith(DESCALED));
    }

    /** The number that says how many days there are from one time to the next. */
    PolicyNumber interval() {
        return interval;
    }

    static int count() {
        return VALUES.length;
    }

    /** How many there were when a state was written. */
    static int countIn(StateReader in) {
        return hasDescaling(in) ? VALUES.length : DESCALING.ordinal();
    }

    static boolean hasDescaling(StateReader in) {
        return in.hasLayout(WITH_DESCALING);
    }

    /** Days from one time to the next: by the register, else by the policy. */
    double days(Machine machine, GroupPolicy policy) {
        OptionalInt row = ofRow(machine);
        return row.isPresent() ? row.getAsInt() : policy.get(interval);
    }

    private OptionalInt ofRow(Machine machine) {
        return switch (this) {
            case CLEANING -> machine.care().cleaningDays();
            case AIR_FILTER -> machine.care().airFilterDays();
            case WATER_FILTER -> machine.care().waterFilterDays();
            case LAMP -> machine.care().lampDays();
            case DESCALING -> OptionalInt.empty();
        };
    }

    /** From which day it counts when nothing was recorded. */
    Optional<LocalDate> begins(Machine machine) {
        return this == LAMP ? machine.lampInstalled().or(machine::installed) : machine.installed();
    }

    /**
     * Whether the machine has it at all, as far as is known: many have no lamp, so that one must be in the register or have
     * been changed before; only a condenser cooled by air has a filter.
     */
    boolean isOf(Machine machine, boolean wasDone) {
        return switch (this) {
            case CLEANING, WATER_FILTER, DESCALING -> true;
            case AIR_FILTER -> machine.condenserCooling() == Machine.Cooling.AIR;
            case LAMP ->
                wasDone
                        || machine.lampInstalled().isPresent()
                        || machine.care().lampDays().isPresent();
        };
    }

    /** The number of the policy that says after how many cycles it is due, whatever the days. */
    Optional<PolicyNumber> cycles() {
        return switch (this) {
            case CLEANING -> Optional.of(PolicyNumber.CLEANING_CYCLES);
            case AIR_FILTER -> Optional.of(PolicyNumber.AIR_FILTER_CYCLES);
            case WATER_FILTER -> Optional.of(PolicyNumber.WATER_FILTER_CYCLES);
            case DESCALING -> Optional.of(PolicyNumber.DESCALING_CYCLES);
            case LAMP -> Optional.empty();
        };
    }

    /** Likewise after how many litres of water. */
    Optional<PolicyNumber> litres() {
        return this == WATER_FILTER ? Optional.of(PolicyNumber.WATER_FILTER_LITRES) : Optional.empty();
    }

    /** What its machine's cycles show when it is due, in words; empty where they show nothing. */
    Optional<String> drift() {
        return switch (this) {
            case DESCALING ->
                Optional.of(
                        "harvests have been longer, or pull-downs shorter, than they should be, as scale makes them");
            case AIR_FILTER ->
                Optional.of("the condensing temperature has been higher over the ambient than it should be");
            case CLEANING, WATER_FILTER, LAMP -> Optional.empty();
        };
    }

    boolean isDrifting(CareSigns signs) {
        return switch (this) {
            case DESCALING -> signs.isPlateDrifting();
            case AIR_FILTER -> signs.isCondenserDrifting();
            case CLEANING, WATER_FILTER, LAMP -> false;
        };
    }

    String due(String why) {
        return name + " is due: " + why;
    }

    String due(double days) {
        return String.format(Locale.ROOT, "%s is due: %.0f days have passed since the last time.", name, days);
    }

    String over() {
        return name + (this == CLEANING || this == DESCALING ? " was done." : " was seen to.");
    }
}
