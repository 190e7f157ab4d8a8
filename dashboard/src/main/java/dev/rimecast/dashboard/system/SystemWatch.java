package dev.rimecast.dashboard.system;

import java.time.Instant;
import java.util.List;

/** What whoever runs the product asks of it, beside its health and its counters. Asked by a person, a few times a minute. */
public interface SystemWatch {
    /** The product, what it runs on, and the engines, each with its version. */
    List<Version> versions();

    /** Where data is kept on disks of this machine. */
    List<Disk> disks();

    /**
     * Messages of which something was rejected, newest first.
     *
     * @throws RuntimeException if what keeps them does not answer
     */
    List<Rejected> rejects(int most);

    /**
     * Machines whose readings wait for a row in the register.
     *
     * @throws RuntimeException if what keeps them does not answer
     */
    List<Unclaimed> unclaimed();

    /** A part and its version. */
    record Version(String part, String version) {}

    /** The disk under a directory, bytes. */
    record Disk(String path, long freeBytes, long totalBytes) {}

    /**
     * A message of which something was rejected.
     *
     * @param reasons {@code index code detail}, index {@code -} for the message as a whole
     * @param payload as it came
     */
    record Rejected(Instant at, String sender, String topic, List<String> reasons, byte[] payload) {}

    /** A machine in no register. */
    record Unclaimed(String machine, String gateway, long readings, Instant firstAt, Instant lastAt) {}
}
