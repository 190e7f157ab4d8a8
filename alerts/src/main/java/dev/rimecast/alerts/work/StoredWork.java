package dev.rimecast.alerts.work;

import dev.rimecast.alerts.work.photo.StoredPhoto;
import java.time.Instant;
import java.util.List;

/**
 * A report as it is kept.
 *
 * @param site where the machine stood when it came in
 * @param enteredBy whose account sent it
 * @param photos in the order in which they came, at most {@link #MOST_PHOTOS}
 */
public record StoredWork(
        WorkReport report, String site, String machine, String enteredBy, Instant enteredAt, List<StoredPhoto> photos) {
    public static final int MOST_PHOTOS = 4;

    public StoredWork {
        photos = List.copyOf(photos);
    }

    /** As it comes in: photos follow it. */
    public StoredWork(WorkReport report, String site, String machine, String enteredBy, Instant enteredAt) {
        this(report, site, machine, enteredBy, enteredAt, List.of());
    }
}
