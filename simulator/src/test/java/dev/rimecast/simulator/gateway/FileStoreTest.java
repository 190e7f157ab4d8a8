package dev.rimecast.simulator.gateway;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.telemetry.log.PackNumber;
import java.io.IOException;
import java.io.RandomAccessFile;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.stream.LongStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class FileStoreTest {
    private static final int LARGE = 60_000;

    @TempDir
    Path directory;

    @Test
    void packs_comeBackInOrder_overARestart_underTheSameBoot() {
        try (FileStore store = open("b1")) {
            assertThat(store.add(pack(1))).isEqualTo(1);
            assertThat(store.add(pack(2))).isEqualTo(2);
            assertThat(all(store, 0)).containsExactly("1 pack 1", "2 pack 2");
        }
        try (FileStore store = open("b2")) {
            assertThat(store.boot()).isEqualTo("b1");
            assertThat(store.add(pack(3))).isEqualTo(3);
            assertThat(all(store, 0)).containsExactly("1 pack 1", "2 pack 2", "3 pack 3");
            assertThat(all(store, 2)).containsExactly("3 pack 3");
            assertThat(store.after(3)).isEmpty();
        }
    }

    @Test
    void covered_deletesWholeSegments_andTheCountGoesOn() throws IOException {
        try (FileStore store = open("b1")) {
            for (int i = 1; i <= 50; i++) {
                store.add(new byte[LARGE]);
            }
            int before = segments().size();
            assertThat(before).isGreaterThan(5);
            store.covered(new PackNumber("b1", 49));
            assertThat(segments()).hasSizeLessThan(3);
            assertThat(store.size()).isEqualTo(1);
            store.covered(new PackNumber("b1", 1_000));
            assertThat(store.size()).isZero();
            assertThat(segments()).as("the newest stays").hasSize(1);
        }
        try (FileStore store = open("b2")) {
            assertThat(store.boot()).isEqualTo("b1");
            assertThat(store.add(pack(51))).isEqualTo(51);
            assertThat(store.size()).as("at most a segment is sent again").isLessThan(10);
        }
    }

    @Test
    void coverOfAnotherBoot_deletesNothing() {
        try (FileStore store = open("b1")) {
            store.add(pack(1));
            store.covered(new PackNumber("b0", 1));
            assertThat(store.size()).isEqualTo(1);
        }
    }

    /** Cut off at every byte of the last record: what was whole before it stays, and the number is given again. */
    @Test
    void tornTail_isCutOff_atEveryByte() throws IOException {
        try (FileStore store = open("b1")) {
            store.add(pack(1));
            store.add(pack(2));
        }
        Path file = segments().get(0);
        byte[] whole = Files.readAllBytes(file);
        int lastRecord = Segment.RECORD_HEADER_BYTES + pack(2).length;
        for (int torn = 1; torn <= lastRecord; torn++) {
            Files.write(file, java.util.Arrays.copyOf(whole, whole.length - torn));
            try (FileStore store = open("b2")) {
                assertThat(all(store, 0)).as("%s bytes torn", torn).containsExactly("1 pack 1");
                assertThat(store.add(pack(7))).isEqualTo(2);
                assertThat(all(store, 0)).containsExactly("1 pack 1", "2 pack 7");
            }
        }
    }

    @Test
    void tornTail_withRubbishBehindIt_isCutOff() throws IOException {
        try (FileStore store = open("b1")) {
            store.add(pack(1));
        }
        try (RandomAccessFile file = new RandomAccessFile(segments().get(0).toFile(), "rw")) {
            file.seek(file.length());
            byte[] rubbish = new byte[4096];
            new Random(5).nextBytes(rubbish);
            file.write(rubbish);
        }
        try (FileStore store = open("b2")) {
            assertThat(all(store, 0)).containsExactly("1 pack 1");
            assertThat(store.add(pack(2))).isEqualTo(2);
        }
        try (FileStore store = open("b2")) {
            assertThat(all(store, 0)).containsExactly("1 pack 1", "2 pack 2");
        }
    }

    @Test
    void newSegmentTornAtItsBeginning_isDeleted_andTheCountGoesOn() throws IOException {
        int packs = fillTwoSegments();
        Path newest = segments().get(1);
        for (int bytes = 0; bytes < 8; bytes++) {
            Files.write(newest, java.util.Arrays.copyOf(Files.readAllBytes(newest), bytes));
            try (FileStore store = open("b2")) {
                assertThat(store.boot()).isEqualTo("b1");
                assertThat(store.add(pack(1))).as("%s bytes", bytes).isEqualTo(packs);
            }
            newest = segments().get(1);
        }
    }

    @Test
    void olderSegmentDamaged_costsWhatIsBehindTheDamage_andNothingElse() throws IOException {
        int packs = fillTwoSegments();
        byte[] bytes = Files.readAllBytes(segments().get(0));
        bytes[bytes.length - 1] ^= 1;
        Files.write(segments().get(0), bytes);
        try (FileStore store = open("b2")) {
            List<Long> numbers = all(store, 0).stream()
                    .map(line -> Long.parseLong(line.split(" ", 2)[0]))
                    .toList();
            assertThat(numbers)
                    .containsExactlyElementsOf(LongStream.rangeClosed(1, packs)
                            .filter(seq -> seq != packs - 1)
                            .boxed()
                            .toList());
        }
    }

    /** Returns the number of the only pack in the second. */
    private int fillTwoSegments() throws IOException {
        int packs = 0;
        try (FileStore store = open("b1")) {
            while (segments().size() < 2) {
                store.add(new byte[LARGE]);
                packs++;
            }
        }
        return packs;
    }

    @Test
    void moreThanIsAllowed_givesUpTheOldest_andCountsThem() {
        try (FileStore store = FileStore.open(directory, "b1", 4L * FileStore.SEGMENT_BYTES)) {
            for (int i = 1; i <= 100; i++) {
                store.add(new byte[LARGE]);
            }
            assertThat(store.bytes()).isLessThan(6L * FileStore.SEGMENT_BYTES);
            assertThat(store.givenUp()).isGreaterThan(50);
            assertThat(store.givenUp() + store.size()).isEqualTo(100);
            long first = store.after(0).orElseThrow().seq();
            assertThat(first).isEqualTo(store.givenUp() + 1);
        }
    }

    @Test
    void secondOpen_isRefused() {
        try (FileStore store = open("b1")) {
            assertThatThrownBy(() -> open("b1")).isInstanceOf(IllegalStateException.class);
            assertThat(store.add(pack(1))).isEqualTo(1);
        }
        open("b1").close();
    }

    @Test
    void reading_whileWriting_seesWhatWasAdded() {
        try (FileStore store = open("b1")) {
            long read = 0;
            for (int i = 1; i <= 2000; i++) {
                store.add(new byte[1000]);
                if (i % 3 == 0) {
                    Optional<PackStore.Numbered> next = store.after(read);
                    read = next.orElseThrow().seq();
                }
                if (i % 500 == 0) {
                    store.covered(new PackNumber("b1", read));
                }
            }
            assertThat(all(store, read)).hasSize((int) (2000 - read));
        }
    }

    private FileStore open(String boot) {
        return FileStore.open(directory, boot, Long.MAX_VALUE);
    }

    private static byte[] pack(int number) {
        return ("pack " + number).getBytes(StandardCharsets.UTF_8);
    }

    private static List<String> all(FileStore store, long after) {
        List<String> packs = new ArrayList<>();
        for (Optional<PackStore.Numbered> next = store.after(after);
                next.isPresent();
                next = store.after(next.get().seq())) {
            packs.add(next.get().seq() + " " + new String(next.get().payload(), StandardCharsets.UTF_8));
        }
        return packs;
    }

    private List<Path> segments() throws IOException {
        try (Stream<Path> files = Files.list(directory)) {
            return files.filter(Segment::isOne).sorted().toList();
        }
    }
}
