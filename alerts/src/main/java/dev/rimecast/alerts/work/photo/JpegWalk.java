package dev.rimecast.alerts.work.photo;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;

/**
 * One way through a JPEG, segment by segment (ITU-T T.81, annex B), which writes what is kept. Each byte is looked at once, and
 * nothing is believed that does not fit what is there.
 */
final class JpegWalk {
    /** libjpeg writes ten for a progressive picture; thousands make a small file slow to show. */
    private static final int MOST_SCANS = 32;

    private static final int START = 0xD8;
    private static final int END = 0xD9;
    private static final int SCAN = 0xDA;
    private static final int QUANTISATION = 0xDB;
    private static final int HUFFMAN = 0xC4;
    private static final int RESTART_INTERVAL = 0xDD;
    private static final int BASELINE = 0xC0;
    private static final int PROGRESSIVE = 0xC2;
    private static final int APP0 = 0xE0;
    private static final int APP14 = 0xEE;
    private static final int APP15 = 0xEF;
    private static final int COMMENT = 0xFE;

    /** Version 1.1, square pixels, no thumbnail (ITU-T T.871, 10.1). */
    private static final byte[] JFIF = {
        (byte) 0xFF, (byte) APP0, 0, 16, 'J', 'F', 'I', 'F', 0, 1, 1, 0, 0, 1, 0, 1, 0, 0
    };

    /** Its name, with the zero behind it. */
    private static final int JFIF_NAME = 5;
    /** Identifiers of components that say red, green and blue where nothing else is said: what libjpeg writes and reads. */
    private static final byte[] RGB = {'R', 'G', 'B'};

    private static final byte[] ADOBE = "Adobe".getBytes(StandardCharsets.US_ASCII);
    /** Length of a segment that says how colours are coded (ITU-T T.872, 6.5.3): its name, and seven bytes, the last of which says it. */
    private static final int ADOBE_LENGTH = 14;

    private final byte[] in;
    private final ByteArrayOutputStream out;
    private final ByteArrayOutputStream body = new ByteArrayOutputStream();
    private int at;
    private int width;
    private int height;
    private int components;
    private int scans;
    /** How colours are coded, where a segment said so; else -1. */
    private int colours = -1;
    /** Whether it has a segment of JFIF, whose colours are luma and chroma (ITU-T T.871, 7) whatever another segment says. */
    private boolean jfif;
    /** Whether its components call themselves red, green and blue. */
    private boolean rgb;

    JpegWalk(byte[] in, ByteArrayOutputStream out) {
        this.in = in;
        this.out = out;
    }

    int width() {
        return width;
    }

    int height() {
        return height;
    }

    void run() throws NotAPhotoException {
        if (in.length < 4 || byteAt(0) != 0xFF || byteAt(1) != START) {
            throw new NotAPhotoException("is no JPEG");
        }
        at = 2;
        for (int marker = marker(); marker != END; marker = marker()) {
            segment(marker);
        }
        if (scans == 0) {
            throw new NotAPhotoException("is a JPEG without a picture");
        }
        write(out, new byte[] {(byte) 0xFF, (byte) START});
        if (!jfif && colours < 0 && rgb) {
            colours = 0;
        }
        write(out, jfif || colours < 0 ? JFIF : adobe());
        write(out, body.toByteArray());
        write(out, new byte[] {(byte) 0xFF, (byte) END});
    }

    /** The next marker; any number of 0xFF may stand before it (B.1.1.2). */
    private int marker() throws NotAPhotoException {
        if (next() != 0xFF) {
            throw broken("something else stands where a segment should begin");
        }
        int marker = next();
        while (marker == 0xFF) {
            marker = next();
        }
        return marker;
    }

    private void segment(int marker) throws NotAPhotoException {
        if (!isKept(marker) && !isLeftOut(marker)) {
            throw new NotAPhotoException(
                    "is a kind of JPEG that browsers do not show (segment " + Integer.toHexString(marker) + ')');
        }
        int begin = at;
        int length = next() << 8 | next();
        if (length < 2 || length > in.length - begin) {
            throw broken("a segment is longer than what there is");
        }
        int end = begin + length;
        if (isLeftOut(marker)) {
            if (marker == APP14) {
                adobe(begin, length);
            } else if (marker == APP0) {
                jfif |= length >= 2 + JFIF_NAME
                        && Arrays.equals(in, begin + 2, begin + 2 + JFIF_NAME, JFIF, 4, 4 + JFIF_NAME);
            }
            at = end;
            return;
        }
        if (isFrame(marker)) {
            frame(begin, length);
        } else if (marker == SCAN) {
            scan(begin, length);
        }
        body.write(0xFF);
        body.write(marker);
        body.write(in, begin, length);
        at = end;
        if (marker == SCAN) {
            picture();
        }
    }

    private static boolean isKept(int marker) {
        return isFrame(marker)
                || marker == SCAN
                || marker == QUANTISATION
                || marker == HUFFMAN
                || marker == RESTART_INTERVAL;
    }

    private static boolean isLeftOut(int marker) {
        return marker >= APP0 && marker <= APP15 || marker == COMMENT;
    }

    private static boolean isFrame(int marker) {
        return marker >= BASELINE && marker <= PROGRESSIVE;
    }

    /** Size and components (B.2.2). */
    private void frame(int begin, int length) throws NotAPhotoException {
        if (components > 0) {
            throw broken("it has two frames");
        }
        if (length < 8 || length != 8 + 3 * byteAt(begin + 7)) {
            throw broken("its frame has another length than it says");
        }
        if (byteAt(begin + 2) != 8) {
            throw new NotAPhotoException("is a JPEG of " + byteAt(begin + 2) + " bits, which browsers do not show");
        }
        height = byteAt(begin + 3) << 8 | byteAt(begin + 4);
        width = byteAt(begin + 5) << 8 | byteAt(begin + 6);
        components = byteAt(begin + 7);
        if (width == 0 || height == 0) {
            throw broken("it has no size");
        }
        if (width > PlainJpeg.LONGEST_EDGE || height > PlainJpeg.LONGEST_EDGE) {
            throw new NotAPhotoException(
                    "is " + width + " × " + height + " pixels, more than " + PlainJpeg.LONGEST_EDGE + " on an edge");
        }
        if (components != 1 && components != 3) {
            throw new NotAPhotoException("is neither grey nor of three colours");
        }
        rgb = components == RGB.length;
        for (int i = 0; rgb && i < RGB.length; i++) {
            rgb = in[begin + 8 + 3 * i] == RGB[i];
        }
    }

    /** Which components come (B.2.3). */
    private void scan(int begin, int length) throws NotAPhotoException {
        if (components == 0) {
            throw broken("its picture comes before its frame");
        }
        int of = length < 3 ? 0 : byteAt(begin + 2);
        if (of < 1 || of > components || length != 6 + 2 * of) {
            throw broken("a scan has another length than it says");
        }
        scans++;
        if (scans > MOST_SCANS) {
            throw new NotAPhotoException("has more than " + MOST_SCANS + " scans");
        }
    }

    /** What is coded goes up to the next marker that is neither a byte of it nor a restart (B.1.1.5). */
    private void picture() throws NotAPhotoException {
        int begin = at;
        while (at + 1 < in.length) {
            int after = byteAt(at + 1);
            if (byteAt(at) != 0xFF || after == 0 || after >= 0xD0 && after <= 0xD7) {
                at++;
            } else {
                body.write(in, begin, at - begin);
                return;
            }
        }
        throw broken("it ends in the midst");
    }

    private void adobe(int begin, int length) {
        boolean says = length == ADOBE_LENGTH;
        for (int i = 0; says && i < ADOBE.length; i++) {
            says = in[begin + 2 + i] == ADOBE[i];
        }
        if (says) {
            colours = byteAt(begin + length - 1);
        }
    }

    /** As it was meant, with nothing else in it. */
    private byte[] adobe() {
        return new byte[] {
            (byte) 0xFF, (byte) APP14, 0, ADOBE_LENGTH, 'A', 'd', 'o', 'b', 'e', 0, 100, 0, 0, 0, 0, (byte) colours
        };
    }

    private int next() throws NotAPhotoException {
        if (at >= in.length) {
            throw broken("it ends in the midst");
        }
        return byteAt(at++);
    }

    private int byteAt(int index) {
        return in[index] & 0xFF;
    }

    private static void write(ByteArrayOutputStream to, byte[] bytes) {
        to.write(bytes, 0, bytes.length);
    }

    private static NotAPhotoException broken(String how) {
        return new NotAPhotoException("is a broken JPEG: " + how);
    }
}
