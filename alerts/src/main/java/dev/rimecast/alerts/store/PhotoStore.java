package dev.rimecast.alerts.store;

import dev.rimecast.alerts.work.StoredWork;
import dev.rimecast.alerts.work.photo.PlainJpeg;
import dev.rimecast.alerts.work.photo.StoredPhoto;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jdbi.v3.core.Handle;

/** Photos of work as rows. Pictures are read one at a time, never with what is known of them. */
public final class PhotoStore {
    private static final String KNOWN = "select report, id, width, height, octet_length(jpeg), encode(sha256, 'hex'),"
            + " entered_by, entered_at from work_photo ";

    /** A photo, and the report that it is of. */
    public record OfReport(UUID report, StoredPhoto photo) {}

    private PhotoStore() {}

    public static Optional<OfReport> one(Handle handle, UUID id) {
        return handle.createQuery(KNOWN + "where id = :id")
                .bind("id", id)
                .map((row, context) -> photo(row))
                .findOne();
    }

    /** By their places. */
    public static Map<UUID, List<StoredPhoto>> of(Handle handle, Collection<UUID> reports) {
        return handle
                .createQuery(KNOWN + "where report = any(:reports) order by report, position")
                .bindArray("reports", UUID.class, reports)
                .map((row, context) -> photo(row))
                .stream()
                .collect(Collectors.groupingBy(
                        OfReport::report, Collectors.mapping(OfReport::photo, Collectors.toList())));
    }

    /** Its picture. */
    public static Optional<byte[]> jpeg(Handle handle, UUID report, UUID id) {
        return handle.createQuery("select jpeg from work_photo where id = :id and report = :report")
                .bind("id", id)
                .bind("report", report)
                .mapTo(byte[].class)
                .findOne();
    }

    /** At the first free place of the report, which must have one: one that was taken away by hand leaves a gap. The id must be new. */
    public static void add(Handle handle, UUID report, StoredPhoto known, PlainJpeg photo) {
        handle.createUpdate("""
                insert into work_photo (id, report, position, width, height, jpeg, sha256, entered_by, entered_at)
                values (:id, :report, (select min(place) from generate_series(0, :most - 1) place
                    where place not in (select position from work_photo where report = :report)),
                    :width, :height, :jpeg, decode(:sha256, 'hex'), :by, :at)""")
                .bind("id", known.id())
                .bind("report", report)
                .bind("most", StoredWork.MOST_PHOTOS)
                .bind("width", known.width())
                .bind("height", known.height())
                .bind("jpeg", photo.bytes())
                .bind("sha256", known.sha256())
                .bind("by", known.enteredBy())
                .bind("at", known.enteredAt())
                .execute();
    }

    private static OfReport photo(ResultSet row) throws SQLException {
        return new OfReport(
                row.getObject(1, UUID.class),
                new StoredPhoto(
                        row.getObject(2, UUID.class),
                        row.getInt(3),
                        row.getInt(4),
                        row.getInt(5),
                        row.getString(6),
                        row.getString(7),
                        row.getTimestamp(8).toInstant()));
    }
}
