package dev.rimecast.history.store;

import dev.rimecast.history.table.Table;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Set;

/**
 * How long and how much.
 *
 * @param age days that ended before are deleted, of every table that is not kept for good
 * @param bytes above that the oldest days of readings and packs go, whatever their age: they are nearly all of it
 */
public record Keep(Duration age, long bytes) {
    public static final Keep STANDARD = new Keep(Duration.ofDays(400), 20_000_000_000L);

    private static final Set<Table> LARGE = Set.of(Table.READINGS, Table.PACKS);

    public Keep {
        if (age.toDays() < 1 || bytes < 1) {
            throw new IllegalArgumentException("at least a day and a byte, was " + age + " and " + bytes);
        }
    }

    /** What stays. Batches do, whatever they hold: they are days soon. */
    List<StoredFile> staying(Manifest manifest, Instant now) {
        LocalDate oldest = LocalDate.ofInstant(now.minus(age), ZoneOffset.UTC);
        List<StoredFile> staying = new ArrayList<>(manifest.files());
        staying.removeIf(file -> !file.table().isKeptForGood()
                && file.day().filter(day -> day.isBefore(oldest)).isPresent());
        long left = staying.stream().mapToLong(StoredFile::bytes).sum();
        List<StoredFile> large = staying.stream()
                .filter(file -> LARGE.contains(file.table()) && file.day().isPresent())
                .sorted(Comparator.comparing(file -> file.day().orElseThrow()))
                .toList();
        for (StoredFile file : large) {
            if (left <= bytes) {
                break;
            }
            staying.remove(file);
            left -= file.bytes();
        }
        return staying;
    }
}
