package dev.rimecast.alerts.register;

import dev.rimecast.alerts.people.Answer;
import dev.rimecast.telemetry.machine.Machine;
import java.time.Instant;
import java.util.List;

/**
 * Puts machines into the register while the product runs, and takes those out again. A claimed machine stays over every start until
 * the file of machines names it; from then on it follows the file. Of two people who claim the same machine the second is told.
 */
public interface MachineClaims {

    /**
     * A machine that is in the register because somebody put it there, and not by the file.
     *
     * @param at when, by the product's clock
     * @param by who
     */
    record Claim(Machine machine, Instant at, String by) {}

    /** By machine. */
    List<Claim> list();

    /** Those that machines of the register name, by name. */
    List<String> modelGroups();

    /**
     * Takes a machine into the register.
     *
     * @param machine its row, checked as a row of the file is
     * @param isNewSite whether a site that is in no register begins with it; otherwise it is taken for a slip of the hand
     */
    Answer<Claim> claim(String by, Machine machine, boolean isNewSite);

    /** Takes a claimed machine out of the register again; what it sends from then on waits as before. */
    Answer<Machine> release(String by, String machine);
}
