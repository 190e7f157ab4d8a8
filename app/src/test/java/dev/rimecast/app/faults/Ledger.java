package dev.rimecast.app.faults;

import dev.rimecast.simulator.gateway.GatewayWatch;
import dev.rimecast.telemetry.log.PackNumber;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/**
 * What a load generator knows of its packs, written down before or after it happens, so that a kill of the generator
 * can only lose what is in favour of the product: a send is on disk before it happens, a receipt after.
 *
 * <p>One line each: {@code S gateway boot seq sha256} before a send, {@code R gateway boot seq} for its PUBACK, {@code C gateway
 * boot seq} for a cumulative acknowledgement. Between S and R a pack is unknown: it may be stored or not.
 */
final class Ledger implements AutoCloseable {
    private final FileChannel file;

    private Ledger(FileChannel file) {
        this.file = file;
    }

    /** Opens one and goes on at its end. */
    static Ledger open(Path path) throws IOException {
        return new Ledger(
                FileChannel.open(path, StandardOpenOption.CREATE, StandardOpenOption.WRITE, StandardOpenOption.APPEND));
    }

    /** Writes down what one gateway does. */
    GatewayWatch of(String gateway) {
        return new GatewayWatch() {
            @Override
            public void sends(PackNumber number, byte[] payload) {
                write("S " + gateway + ' ' + number.boot() + ' ' + number.seq() + ' ' + sha256(payload), true);
            }

            @Override
            public void receipt(PackNumber number) {
                write("R " + gateway + ' ' + number.boot() + ' ' + number.seq(), false);
            }

            @Override
            public void covered(PackNumber upTo) {
                write("C " + gateway + ' ' + upTo.boot() + ' ' + upTo.seq(), true);
            }
        };
    }

    private synchronized void write(String line, boolean isForced) {
        try {
            ByteBuffer bytes = ByteBuffer.wrap((line + '\n').getBytes(StandardCharsets.UTF_8));
            while (bytes.hasRemaining()) {
                file.write(bytes);
            }
            if (isForced) {
                file.force(false);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    static String sha256(byte[] payload) {
        try {
            return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(payload));
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException(e);
        }
    }

    @Override
    public void close() throws IOException {
        file.force(true);
        file.close();
    }
}
