package dev.rimecast.engines;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The file of ports, whole and as a power cut may leave it. */
class KeptPortsTest {
    private static final long SEED = 22;

    @TempDir
    Path directory;

    @Test
    void ports_thatAreFree_areThoseOfTheLastStart() throws IOException {
        Path file = directory.resolve("ports");
        List<Integer> first = new KeptPorts(file, 2).choose();

        assertThat(new KeptPorts(file, 2).choose()).isEqualTo(first).hasSize(2);
    }

    @Test
    void ports_ofWhichOneIsTaken_areChosenAnew() throws IOException {
        Path file = directory.resolve("ports");
        List<Integer> first = new KeptPorts(file, 2).choose();
        try (ServerSocket taken = new ServerSocket(first.get(1), 1, InetAddress.getLoopbackAddress())) {
            assertThat(taken.isBound()).isTrue();
            assertThat(new KeptPorts(file, 2).choose()).doesNotContain(first.get(1));
        }
    }

    @Test
    void file_thatIsTornOrRubbish_isNoReasonNotToStart() throws IOException {
        Path file = directory.resolve("ports");
        new KeptPorts(file, 2).choose();
        byte[] whole = Files.readAllBytes(file);
        Random random = new Random(SEED);
        for (int length = 0; length < whole.length; length++) {
            Files.write(file, Arrays.copyOf(whole, length));
            assertThat(new KeptPorts(file, 2).choose()).as("%d bytes", length).hasSize(2);
            byte[] rubbish = new byte[length];
            random.nextBytes(rubbish);
            Files.write(file, rubbish);
            assertThat(new KeptPorts(file, 2).choose())
                    .as("rubbish, seed %d", SEED)
                    .hasSize(2);
        }
    }
}
