package dev.rimecast.engines;

import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.ServerSocket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;

/** Loopback ports that stay the same over restarts as long as nobody else has taken them. */
final class KeptPorts {
    private final Path file;
    private final int count;

    KeptPorts(Path file, int count) {
        this.file = file;
        this.count = count;
    }

    /** The ports of the last start if they are all free, else new ones, which are written to the file. */
    List<Integer> choose() throws IOException {
        List<Integer> kept = read();
        return kept.size() == count && kept.stream().allMatch(KeptPorts::isFree) ? kept : chooseNew();
    }

    /** New free ports, written to the file. */
    List<Integer> chooseNew() throws IOException {
        Set<Integer> ports = new LinkedHashSet<>();
        while (ports.size() < count) {
            try (ServerSocket probe = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
                ports.add(probe.getLocalPort());
            }
        }
        List<String> lines = ports.stream().map(String::valueOf).toList();
        Files.write(file, lines);
        return List.copyOf(ports);
    }

    /** What the file says; empty if there is no file or it can't be understood. */
    List<Integer> read() throws IOException {
        List<Integer> ports = new ArrayList<>();
        if (!Files.exists(file)) {
            return ports;
        }
        // Every byte is a character there: what a power cut has left behind is no port, and no reason not to start.
        for (String line : Files.readAllLines(file, StandardCharsets.ISO_8859_1)) {
            if (!line.matches("[1-9][0-9]{3,4}")) {
                return List.of();
            }
            ports.add(Integer.parseInt(line));
        }
        return ports;
    }

    private static boolean isFree(int port) {
        try (ServerSocket probe = new ServerSocket()) {
            // Without this a port whose last connections are in TIME_WAIT counts as taken right after a restart.
            probe.setReuseAddress(true);
            probe.bind(new InetSocketAddress(InetAddress.getLoopbackAddress(), port), 1);
            return true;
        } catch (IOException taken) {
            return false;
        } catch (IllegalArgumentException notAPort) {
            return false;
        }
    }
}
