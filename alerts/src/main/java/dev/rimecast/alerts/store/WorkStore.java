package dev.rimecast.alerts.store;

import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.work.Charge;
import dev.rimecast.alerts.work.Deed;
import dev.rimecast.alerts.work.Done;
import dev.rimecast.alerts.work.Found;
import dev.rimecast.alerts.work.StoredWork;
import dev.rimecast.alerts.work.WorkReport;
import dev.rimecast.alerts.work.photo.StoredPhoto;
import dev.rimecast.telemetry.finding.Cause.Origin;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.statement.Query;

/** Reports of work as rows. */
public final class WorkStore {
    private static final String SELECT =
            "select id, site, machine, happened, found, found_text, origin, charge, job, note,"
                    + " who, certificate, visit, case_id, entered_by, entered_at from work_report"
                    + " where (:everySite or site = any(:sites)) ";

    private record Part(UUID report, Done done) {}

    private WorkStore() {}

    /** The id must be new. */
    public static void add(Handle handle, StoredWork work) {
        WorkReport report = work.report();
        handle.createUpdate("""
                insert into work_report (id, site, machine, happened, found, found_text, origin, charge, job, note, who,
                    certificate, visit, case_id, entered_by, entered_at)
                values (:id, :site, :machine, :happened, :found, :foundText, :origin, :charge, :job, :note, :who,
                    :certificate, :visit, :case, :enteredBy, :enteredAt)""")
                .bind("id", report.id())
                .bind("site", work.site())
                .bind("machine", work.machine())
                .bind("happened", report.at())
                .bind("found", report.found().code())
                .bind("foundText", report.found().text())
                .bind("origin", report.origin().map(Origin::code))
                .bind("charge", report.charge().map(Charge::code))
                .bind("job", report.job())
                .bind("note", report.note())
                .bind("who", report.by())
                .bind("certificate", report.certificate())
                .bind("visit", report.visit())
                .bind("case", report.caseId())
                .bind("enteredBy", work.enteredBy())
                .bind("enteredAt", work.enteredAt())
                .execute();
        for (int i = 0; i < report.done().size(); i++) {
            Done done = report.done().get(i);
            handle.createUpdate("insert into work_done (report, position, what, detail, grams)"
                            + " values (:report, :position, :what, :detail, :grams)")
                    .bind("report", report.id())
                    .bind("position", i)
                    .bind("what", done.deed().code())
                    .bind("detail", done.detail())
                    .bind("grams", done.grams())
                    .execute();
        }
    }

    public static Optional<StoredWork> one(Handle handle, SiteScope sites, UUID id) {
        return read(handle, sites, handle.createQuery(SELECT + "and id = :id").bind("id", id)).stream()
                .findFirst();
    }

    /** Newest first. */
    public static List<StoredWork> ofMachine(
            Handle handle, SiteScope sites, String machine, Optional<UUID> after, int limit) {
        String older = after.isPresent()
                ? " and (happened, id) < (select happened, id from work_report where id = :after)"
                : "";
        return read(
                handle,
                sites,
                handle.createQuery(SELECT + "and machine = :machine" + older
                                + " order by happened desc, id desc limit :limit")
                        .bind("machine", machine)
                        .bindMap(after.map(id -> Map.of("after", id)).orElse(Map.of()))
                        .bind("limit", limit));
    }

    /** Oldest first. */
    public static List<StoredWork> between(
            Handle handle, SiteScope sites, Optional<String> machine, Instant from, Instant to) {
        return read(
                handle,
                sites,
                handle.createQuery(SELECT + """
                        and (cast(:machine as text) is null or machine = :machine)
                        and happened >= :from and happened < :to order by happened, id""")
                        .bind("machine", machine)
                        .bind("from", from)
                        .bind("to", to));
    }

    private static List<StoredWork> read(Handle handle, SiteScope sites, Query query) {
        List<StoredWork> bare = query.bind("everySite", sites.isEvery())
                .bindArray("sites", String.class, sites.sites())
                .map((row, context) -> work(row))
                .list();
        List<UUID> ids = bare.stream().map(work -> work.report().id()).toList();
        Map<UUID, List<StoredPhoto>> photos = PhotoStore.of(handle, ids);
        Map<UUID, List<Done>> done = handle
                .createQuery(
                        "select report, what, detail, grams from work_done where report = any(:ids) order by report, position")
                .bindArray("ids", UUID.class, ids)
                .map((row, context) -> part(row))
                .stream()
                .collect(Collectors.groupingBy(
                        Part::report, Collectors.mapping(Part::done, Collectors.toCollection(ArrayList::new))));
        return bare.stream()
                .map(work -> with(
                        work,
                        done.getOrDefault(work.report().id(), List.of()),
                        photos.getOrDefault(work.report().id(), List.of())))
                .toList();
    }

    private static Part part(ResultSet row) throws SQLException {
        int grams = row.getInt(4);
        Optional<Integer> ofRefrigerant = row.wasNull() ? Optional.empty() : Optional.of(grams);
        return new Part(
                row.getObject(1, UUID.class),
                new Done(Deed.ofCode(row.getString(2)).orElseThrow(), row.getString(3), ofRefrigerant));
    }

    private static StoredWork with(StoredWork work, List<Done> done, List<StoredPhoto> photos) {
        WorkReport r = work.report();
        WorkReport report = new WorkReport(
                r.id(),
                r.at(),
                r.found(),
                r.origin(),
                done,
                r.charge(),
                r.job(),
                r.note(),
                r.by(),
                r.certificate(),
                r.visit(),
                r.caseId());
        return new StoredWork(report, work.site(), work.machine(), work.enteredBy(), work.enteredAt(), photos);
    }

    /** Without what was done, and without photos. */
    private static StoredWork work(ResultSet row) throws SQLException {
        WorkReport report = new WorkReport(
                row.getObject(1, UUID.class),
                row.getTimestamp(4).toInstant(),
                Found.of(row.getString(5), row.getString(6)).orElseThrow(),
                Optional.ofNullable(row.getString(7)).map(WorkStore::origin),
                List.of(),
                Optional.ofNullable(row.getString(8)).flatMap(Charge::ofCode),
                row.getString(9),
                row.getString(10),
                row.getString(11),
                row.getString(12),
                Optional.ofNullable(row.getObject(13, UUID.class)),
                Optional.ofNullable(row.getObject(14, UUID.class)));
        return new StoredWork(
                report,
                row.getString(2),
                row.getString(3),
                row.getString(15),
                row.getTimestamp(16).toInstant());
    }

    private static Origin origin(String code) {
        return Origin.valueOf(code.toUpperCase(Locale.ROOT));
    }
}
