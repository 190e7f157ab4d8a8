package dev.rimecast.telemetry.file.csv;

import com.github.luben.zstd.ZstdIOException;
import java.io.EOFException;
import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Path;
import java.util.zip.ZipException;

/** What is in a compressed file; says which one it is where it ends too early. */
final class CompressedInput extends FilterInputStream {
    private final Path file;

    CompressedInput(Path file, InputStream in) {
        super(in);
        this.file = file;
    }

    @Override
    public int read() throws IOException {
        byte[] one = new byte[1];
        int count = read(one, 0, 1);
        return count < 0 ? count : one[0] & 0xff;
    }

    @Override
    public int read(byte[] bytes, int offset, int length) throws IOException {
        try {
            return super.read(bytes, offset, length);
        } catch (EOFException | ZipException | ZstdIOException e) {
            throw damaged(file, e);
        }
    }

    static InputProblems damaged(Path file, IOException cause) {
        InputProblems problems = new InputProblems(new InputProblem(
                file.toString(),
                0,
                "",
                "is cut off or damaged, or not compressed as its name says: take a whole copy of it"));
        problems.initCause(cause);
        return problems;
    }
}
