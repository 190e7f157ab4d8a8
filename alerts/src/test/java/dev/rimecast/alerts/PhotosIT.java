package dev.rimecast.alerts;

import static dev.rimecast.alerts.life.Findings.NOON;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.work.Deed;
import dev.rimecast.alerts.work.Done;
import dev.rimecast.alerts.work.Found;
import dev.rimecast.alerts.work.ScopedWork;
import dev.rimecast.alerts.work.StoredWork;
import dev.rimecast.alerts.work.Work;
import dev.rimecast.alerts.work.Work.Outcome;
import dev.rimecast.alerts.work.Work.PhotoOutcome;
import dev.rimecast.alerts.work.WorkReport;
import dev.rimecast.alerts.work.photo.NotAPhotoException;
import dev.rimecast.alerts.work.photo.PlainJpeg;
import dev.rimecast.alerts.work.photo.StoredPhoto;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.stream.IntStream;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** Photos of work on a real database: stored once, at most four of a report, and only for who sees its site. */
class PhotosIT extends StageBench {
    private static final Instant NOW = NOON.plusSeconds(3_600);
    private static final Person ADA = new Person("ada");
    private static final SiteScope BAR = SiteScope.of(List.of("bar"));
    private static final SiteScope CLUB = SiteScope.of(List.of("club"));

    private Work work;

    PhotosIT() {
        super(NOW);
    }

    @BeforeAll
    void start() {
        work = stage.work();
        know(new Register(
                List.of(Machine.basic("ice-a", "bar", "gw-bar"), Machine.basic("ice-c", "club", "gw-club")),
                List.of()));
    }

    private UUID report() {
        WorkReport report = new WorkReport(
                UUID.randomUUID(),
                NOW,
                new Found.Nothing(),
                Optional.empty(),
                List.of(Done.of(Deed.CLEANED)),
                Optional.empty(),
                "",
                "",
                "Pim",
                "",
                Optional.empty(),
                Optional.empty());
        assertThat(work.report(SiteScope.EVERY, "ice-a", report, ADA)).isInstanceOf(Outcome.Added.class);
        return report.id();
    }

    private static PlainJpeg photo(int width) {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        try {
            ImageIO.write(new BufferedImage(width, 20, BufferedImage.TYPE_INT_RGB), "jpeg", out);
            return PlainJpeg.of(out.toByteArray());
        } catch (IOException | NotAPhotoException e) {
            throw new IllegalStateException(e);
        }
    }

    private StoredWork stored(UUID report) {
        return work.one(SiteScope.EVERY, report).orElseThrow();
    }

    @Test
    void photo_sentTwice_isOneRow_asItWasFirst() {
        UUID report = report();
        UUID id = UUID.randomUUID();
        PlainJpeg first = photo(30);

        PhotoOutcome added = work.addPhoto(SiteScope.EVERY, report, id, first, ADA);
        PhotoOutcome again = work.addPhoto(SiteScope.EVERY, report, id, photo(50), new Person("eve"));

        assertThat(added).isInstanceOf(PhotoOutcome.Added.class);
        StoredPhoto known = ((PhotoOutcome.Added) added).photo();
        assertThat(known).isEqualTo(new StoredPhoto(id, 30, 20, first.bytes().length, first.sha256(), "ada", NOW));
        assertThat(again).isEqualTo(new PhotoOutcome.Known(known));
        assertThat(stored(report).photos()).containsExactly(known);
        assertThat(work.ofMachine(SiteScope.EVERY, "ice-a", Optional.empty(), 500))
                .filteredOn(each -> each.report().id().equals(report))
                .singleElement()
                .isEqualTo(stored(report));
        assertThat(work.photo(SiteScope.EVERY, report, id)).contains(first.bytes());
        assertThat(work.addPhoto(SiteScope.EVERY, report(), id, first, ADA)).isEqualTo(new PhotoOutcome.Elsewhere());
    }

    @Test
    void photosOfOneReport_manyAtOnce_areFour() throws Exception {
        UUID report = report();
        ExecutorService threads = Executors.newFixedThreadPool(8);
        List<PhotoOutcome> outcomes = new ArrayList<>();
        try {
            List<Callable<PhotoOutcome>> tries = IntStream.range(0, 12)
                    .<Callable<PhotoOutcome>>mapToObj(
                            i -> () -> work.addPhoto(SiteScope.EVERY, report, UUID.randomUUID(), photo(10 + i), ADA))
                    .toList();
            for (Future<PhotoOutcome> each : threads.invokeAll(tries)) {
                outcomes.add(each.get());
            }
        } finally {
            threads.shutdownNow();
        }

        assertThat(outcomes).filteredOn(PhotoOutcome.Added.class::isInstance).hasSize(StoredWork.MOST_PHOTOS);
        assertThat(outcomes).filteredOn(new PhotoOutcome.Full()::equals).hasSize(12 - StoredWork.MOST_PHOTOS);
        assertThat(stored(report).photos()).hasSize(StoredWork.MOST_PHOTOS);
    }

    @Test
    void photo_ofAnotherSite_isNotThere() {
        UUID report = report();
        UUID id = UUID.randomUUID();
        Work elsewhere = ScopedWork.of(work, CLUB);

        assertThat(elsewhere.addPhoto(SiteScope.EVERY, report, id, photo(30), ADA))
                .isEqualTo(new PhotoOutcome.NotFound());
        assertThat(work.addPhoto(SiteScope.EVERY, UUID.randomUUID(), id, photo(30), ADA))
                .isEqualTo(new PhotoOutcome.NotFound());
        assertThat(ScopedWork.of(work, BAR).addPhoto(SiteScope.EVERY, report, id, photo(30), ADA))
                .isInstanceOf(PhotoOutcome.Added.class);
        assertThat(elsewhere.photo(SiteScope.EVERY, report, id)).isEmpty();
        assertThat(ScopedWork.of(work, BAR).photo(SiteScope.EVERY, report, id)).isPresent();
        assertThat(work.photo(SiteScope.EVERY, report(), id))
                .as("of another report")
                .isEmpty();
    }

    /** By hand, as the page on security says; its place is free again. */
    @Test
    void photo_takenAwayByWhoeverRunsTheMachine_makesRoomForAnother() {
        UUID report = report();
        UUID first = UUID.randomUUID();
        work.addPhoto(SiteScope.EVERY, report, first, photo(30), ADA);
        for (int i = 1; i < StoredWork.MOST_PHOTOS; i++) {
            work.addPhoto(SiteScope.EVERY, report, UUID.randomUUID(), photo(30), ADA);
        }

        engines.jdbi()
                .useTransaction(handle -> handle.createScript("alter table work_photo disable trigger user;"
                                + " delete from work_photo where id = '" + first + "';"
                                + " alter table work_photo enable trigger user")
                        .execute());

        assertThat(stored(report).photos()).hasSize(StoredWork.MOST_PHOTOS - 1);
        assertThat(work.photo(SiteScope.EVERY, report, first)).isEmpty();
        assertThat(work.addPhoto(SiteScope.EVERY, report, UUID.randomUUID(), photo(31), ADA))
                .isInstanceOf(PhotoOutcome.Added.class);
        assertThat(stored(report).photos())
                .hasSize(StoredWork.MOST_PHOTOS)
                .first()
                .extracting(StoredPhoto::width)
                .isEqualTo(31);
    }

    @Test
    void rows_onceStored_areNotChanged_norOtherThanTheirSum() {
        UUID report = report();
        work.addPhoto(SiteScope.EVERY, report, UUID.randomUUID(), photo(30), ADA);
        for (String change :
                List.of("update work_photo set width = 7", "delete from work_photo", "truncate work_photo")) {
            assertThatThrownBy(() -> engines.jdbi().useHandle(handle -> handle.execute(change)))
                    .hasMessageContaining("append-only");
        }
        assertThatThrownBy(() -> engines.jdbi()
                        .useHandle(handle -> handle.execute(
                                "insert into work_photo (id, report, position, width, height, jpeg, sha256, entered_by, entered_at)"
                                        + " values (gen_random_uuid(), ?, 1, 1, 1, '\\x01020304', '\\x00', 'x', now())",
                                report)))
                .hasMessageContaining("sha256");
    }
}
