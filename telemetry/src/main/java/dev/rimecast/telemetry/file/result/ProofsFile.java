package dev.rimecast.telemetry.file.result;

import dev.rimecast.telemetry.file.csv.Cells;
import dev.rimecast.telemetry.file.csv.CsvOutput;
import dev.rimecast.telemetry.file.csv.IsoTime;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.proof.Proof;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Collectors;

/** {@code proofs.csv}: a row for each revision of each proof of fix, by machine, time of the work and revision. */
public final class ProofsFile {
    private static final List<String> HEADER = List.of(
            "proof",
            "revision",
            "machine",
            "worked_at",
            "at",
            "cause",
            "about",
            "check",
            "verdict",
            "probability",
            "cycles",
            "last",
            "summary");

    private static final Comparator<Proof> ORDER =
            Comparator.comparing(Proof::machine).thenComparing(Proof::workedAt).thenComparing(Proof::revision);

    private ProofsFile() {}

    /** Writes the proofs, whatever order they come in. */
    public static void write(Path file, Collection<Proof> proofs) throws IOException {
        List<Proof> sorted = proofs.stream().sorted(ORDER).toList();
        try (CsvOutput out = new CsvOutput(file, HEADER)) {
            for (Proof proof : sorted) {
                out.row(cells(proof));
            }
        }
    }

    private static List<String> cells(Proof proof) {
        return List.of(
                proof.id().toString(),
                String.valueOf(proof.revision()),
                proof.machine(),
                IsoTime.format(proof.workedAt()),
                IsoTime.format(proof.at()),
                proof.cause().map(Cause::code).orElse(""),
                proof.about().stream().map(Condition::code).collect(Collectors.joining(";")),
                proof.check().code(),
                proof.verdict().code(),
                Cells.fixed(proof.probability(), Rounding.PROBABILITY),
                String.valueOf(proof.cycles()),
                Cells.flag(proof.isLast()),
                proof.summary());
    }
}
