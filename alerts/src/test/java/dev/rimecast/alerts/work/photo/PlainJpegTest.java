package dev.rimecast.alerts.work.photo;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Random;
import javax.imageio.IIOImage;
import javax.imageio.ImageIO;
import javax.imageio.ImageWriteParam;
import javax.imageio.ImageWriter;
import javax.imageio.stream.MemoryCacheImageOutputStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Segments as ITU-T T.81 (annex B) has them; pictures are written and read again by the platform's own codec. */
class PlainJpegTest {
    private static final int SOS = 0xDA;
    private static final int APP1 = 0xE1;
    private static final int COM = 0xFE;

    private static BufferedImage picture(int width, int height) {
        BufferedImage image = new BufferedImage(width, height, BufferedImage.TYPE_INT_RGB);
        Graphics2D graphics = image.createGraphics();
        graphics.setColor(Color.ORANGE);
        graphics.fillOval(2, 2, width - 4, height - 4);
        graphics.dispose();
        return image;
    }

    private static byte[] jpeg(BufferedImage image, boolean progressive) {
        ImageWriter writer = ImageIO.getImageWritersByFormatName("jpeg").next();
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        try (MemoryCacheImageOutputStream stream = new MemoryCacheImageOutputStream(out)) {
            ImageWriteParam how = writer.getDefaultWriteParam();
            how.setProgressiveMode(progressive ? ImageWriteParam.MODE_DEFAULT : ImageWriteParam.MODE_DISABLED);
            writer.setOutput(stream);
            writer.write(null, new IIOImage(image, null, null), how);
        } catch (IOException e) {
            throw new java.io.UncheckedIOException(e);
        } finally {
            writer.dispose();
        }
        return out.toByteArray();
    }

    private static byte[] small() {
        return jpeg(picture(64, 48), false);
    }

    private static byte[] segment(int marker, byte[] content) {
        byte[] segment = new byte[content.length + 4];
        segment[0] = (byte) 0xFF;
        segment[1] = (byte) marker;
        segment[2] = (byte) (content.length + 2 >> 8);
        segment[3] = (byte) (content.length + 2);
        System.arraycopy(content, 0, segment, 4, content.length);
        return segment;
    }

    private static byte[] with(byte[] jpeg, int at, byte[] more) {
        byte[] joined = new byte[jpeg.length + more.length];
        System.arraycopy(jpeg, 0, joined, 0, at);
        System.arraycopy(more, 0, joined, at, more.length);
        System.arraycopy(jpeg, at, joined, at + more.length, jpeg.length - at);
        return joined;
    }

    private static byte[] ascii(String text) {
        return text.getBytes(StandardCharsets.ISO_8859_1);
    }

    /** Exif 2.32, 4.6.6: a GPS directory with a latitude of 52° 22' N, with a marker of our own to look for. */
    private static byte[] place() {
        return segment(
                APP1,
                ascii(
                        "Exif\0\0MM\0*\0\0\0\10\0\1\210%\0\4\0\0\0\1\0\0\0\32\0\0\0\0"
                                + "\0\2\0\1\0\2\0\0\0\2N\0\0\0\0\2\0\5\0\0\0\3\0\0\0\70\0\0\0\0\0\0\0\64\0\0\0\1\0\0\0\26\0\0\0\1 52N-22"));
    }

    private static int find(byte[] in, int marker) {
        for (int i = 0; i + 1 < in.length; i++) {
            if ((in[i] & 0xFF) == 0xFF && (in[i + 1] & 0xFF) == marker) {
                return i;
            }
        }
        return -1;
    }

    private static String text(byte[] bytes) {
        return new String(bytes, StandardCharsets.ISO_8859_1);
    }

    private static int[] pixels(byte[] jpeg) throws IOException {
        BufferedImage image = ImageIO.read(new ByteArrayInputStream(jpeg));
        return image.getRGB(0, 0, image.getWidth(), image.getHeight(), null, 0, image.getWidth());
    }

    private static void refused(byte[] sent, String why) {
        assertThatThrownBy(() -> PlainJpeg.of(sent))
                .isInstanceOf(NotAPhotoException.class)
                .hasMessageContaining(why);
    }

    @Test
    void placeAndComments_whereverTheyStand_areLeftOut_andThePictureIsTheSame() throws Exception {
        byte[] plain = small();
        byte[] sent = with(plain, 2, place());
        sent = with(sent, find(sent, SOS), segment(COM, ascii("made by 52N-22")));
        sent = with(sent, find(sent, SOS), segment(0xED, ascii("Photoshop 3.0\0 52N-22")));
        sent = with(sent, sent.length - 2, segment(APP1, ascii("http://ns.adobe.com/xap/1.0/\0 52N-22")));
        sent = with(sent, sent.length, with(place(), 0, plain));
        assertThat(text(sent)).contains("52N-22", "Exif");

        PlainJpeg kept = PlainJpeg.of(sent);

        assertThat(text(kept.bytes())).doesNotContain("52N-22", "Exif", "Photoshop", "xap");
        assertThat(pixels(kept.bytes())).isEqualTo(pixels(plain));
        assertThat(kept.width()).isEqualTo(64);
        assertThat(kept.height()).isEqualTo(48);
        assertThat(kept.sha256()).hasSize(64);
        assertThat(PlainJpeg.of(kept.bytes()).bytes()).as("once more").isEqualTo(kept.bytes());
    }

    @Test
    void thumbnailOfJfif_isLeftOut() throws Exception {
        byte[] plain = small();
        byte[] sent = with(
                plain, 2, segment(0xE0, ascii("JFXX\0\20" + text(with(jpeg(picture(16, 16), false), 2, place())))));

        PlainJpeg kept = PlainJpeg.of(sent);

        assertThat(text(kept.bytes())).doesNotContain("JFXX", "52N-22");
        assertThat(pixels(kept.bytes())).isEqualTo(pixels(plain));
    }

    @Test
    void progressivePicture_keepsItsScans() throws Exception {
        byte[] plain = jpeg(picture(200, 100), true);
        byte[] sent = with(plain, 2, place());
        int between = plain.length - 2;
        while (!((plain[between] & 0xFF) == 0xFF && (plain[between + 1] & 0xFF) == SOS)) {
            between--;
        }
        sent = with(sent, between + place().length, segment(COM, ascii("between scans")));

        PlainJpeg kept = PlainJpeg.of(sent);

        assertThat(text(kept.bytes())).doesNotContain("between scans", "52N-22");
        assertThat(pixels(kept.bytes())).isEqualTo(pixels(plain));
    }

    @Test
    void greyPicture_isTaken() throws Exception {
        BufferedImage grey = new BufferedImage(20, 10, BufferedImage.TYPE_BYTE_GRAY);

        assertThat(PlainJpeg.of(jpeg(grey, false)).width()).isEqualTo(20);
    }

    /** Without this note a reader takes red, green and blue for luma and chroma (ITU-T T.872, 6.5.3). */
    @Test
    void noteOnHowColoursAreCoded_isWrittenAnew_withNothingElseInIt() throws Exception {
        byte[] sent = with(small(), 2, segment(0xEE, ascii("Adobe\0d\1\2\3\4\0")));
        int jfif = find(sent, 0xE0);
        byte[] without = with(Arrays.copyOf(sent, jfif), jfif, Arrays.copyOfRange(sent, jfif + 18, sent.length));

        byte[] kept = PlainJpeg.of(without).bytes();

        assertThat(text(kept)).contains("Adobe\0d\0\0\0\0\0").doesNotContain("JFIF", "Adobe\0d\1");
        assertThat(pixels(kept)).isEqualTo(pixels(without));
    }

    /** Where JFIF is there, colours are luma and chroma (ITU-T T.871), whatever a note behind it says: browsers read it so. */
    @Test
    void noteOnColours_besideJfif_countsForNothing() throws Exception {
        byte[] plain = small();
        int behindJfif = find(plain, 0xE0) + 18;
        byte[] sent = with(plain, behindJfif, segment(0xEE, ascii("Adobe\0d\0\0\0\0\0")));

        byte[] kept = PlainJpeg.of(sent).bytes();

        assertThat(text(kept)).contains("JFIF").doesNotContain("Adobe");
        assertThat(pixels(kept)).isEqualTo(pixels(plain));
    }

    /** As libjpeg reads it (jdapimin.c): components called R, G and B are these colours where no segment says otherwise. */
    @Test
    void componentsCalledRedGreenAndBlue_withoutAnyNote_stayTheseColours() throws Exception {
        byte[] plain = small();
        int jfif = find(plain, 0xE0);
        byte[] sent = with(Arrays.copyOf(plain, jfif), jfif, Arrays.copyOfRange(plain, jfif + 18, plain.length));
        int frame = find(sent, 0xC0);
        int scan = find(sent, SOS);
        for (int i = 0; i < 3; i++) {
            sent = changed(sent, frame + 10 + 3 * i, "RGB".charAt(i));
            sent = changed(sent, scan + 5 + 2 * i, "RGB".charAt(i));
        }

        byte[] kept = PlainJpeg.of(sent).bytes();

        assertThat(text(kept)).contains("Adobe\0d\0\0\0\0\0").doesNotContain("JFIF");
        assertThat(pixels(kept)).isEqualTo(pixels(sent)).isNotEqualTo(pixels(plain));
    }

    @Test
    void truncated_anywhere_isRefused() throws Exception {
        byte[] whole = small();
        for (int length = 0; length < whole.length; length++) {
            byte[] cut = Arrays.copyOf(whole, length);
            assertThatThrownBy(() -> PlainJpeg.of(cut)).isInstanceOf(NotAPhotoException.class);
        }
        refused(Arrays.copyOf(whole, whole.length - 2), "ends in the midst");
        assertThat(PlainJpeg.of(whole).width()).isEqualTo(64);
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "",
                "x",
                "\u0089PNG\r\n\u001a\n",
                "GIF89a",
                "<svg xmlns='http://www.w3.org/2000/svg'/>",
                "%PDF-1.7"
            })
    void whatIsNoJpeg_isRefused(String content) {
        refused(ascii(content), "is no JPEG");
    }

    /** A frame's size has 16 bits (B.2.2): 65,535 on an edge is the most that one can claim; unpacked, 12 GB. */
    @Test
    void hugeSize_claimedBySomeBytes_isRefusedByItsHead() {
        byte[] sent = small();
        int frame = find(sent, 0xC0);
        Arrays.fill(sent, frame + 5, frame + 9, (byte) 0xFF);

        refused(sent, "is 65535 × 65535 pixels, more than 2048 on an edge");
    }

    @Test
    void oneEdgeThatIsTooLong_isRefused_andOneThatIsJustLongEnoughTaken() throws Exception {
        refused(jpeg(picture(2_049, 8), false), "is 2049 × 8 pixels");
        refused(jpeg(picture(8, 2_049), false), "is 8 × 2049 pixels");
        assertThat(PlainJpeg.of(jpeg(picture(2_048, 8), false)).width()).isEqualTo(2_048);
    }

    @Test
    void hostileFrames_areRefused() {
        byte[] sent = small();
        int frame = find(sent, 0xC0);
        refused(changed(sent, frame + 4, 12), "bits");
        refused(changed(sent, frame + 9, 4), "another length than it says");
        refused(changed(changed(sent, frame + 5, 0), frame + 6, 0), "no size");
        refused(changed(sent, frame + 1, 0xC3), "that browsers do not show");
        refused(changed(sent, frame + 1, 0xC9), "that browsers do not show");
        refused(changed(sent, frame + 2, 0xFF), "longer than what there is");
        refused(changed(changed(sent, frame + 2, 0), frame + 3, 1), "longer than what there is");
        byte[] whole = Arrays.copyOfRange(sent, frame, frame + 2 + 17);
        refused(with(sent, frame, whole), "two frames");
        refused(with(sent, find(sent, SOS), new byte[] {0, 0}), "where a segment should begin");
        refused(new byte[] {(byte) 0xFF, (byte) 0xD8, (byte) 0xFF, (byte) 0xD9}, "without a picture");
        refused(
                with(new byte[] {(byte) 0xFF, (byte) 0xD8, (byte) 0xFF, (byte) 0xD9}, 2, segment(SOS, new byte[10])),
                "before its frame");
    }

    @Test
    void thousandsOfScans_areRefused() {
        byte[] sent = small();
        byte[] scan = segment(SOS, new byte[] {1, 1, 0, 0, 63, 0});
        for (int i = 0; i < 40; i++) {
            sent = with(sent, find(sent, SOS), scan);
        }
        refused(sent, "more than 32 scans");
    }

    @Test
    void tooManyBytes_areRefused() {
        refused(new byte[PlainJpeg.MOST_BYTES + 1], "larger than 1024 KiB");
    }

    /** Whatever comes: refused, or kept without what was left out, and the same when it is looked through again. */
    @Test
    void anyBytes_areRefusedOrComeOutPlain() throws Exception {
        long seed = 20261130;
        Random random = new Random(seed);
        byte[] good = with(jpeg(picture(40, 30), true), 2, place());
        int kept = 0;
        for (int i = 0; i < 20_000; i++) {
            byte[] sent = Arrays.copyOf(good, good.length);
            for (int n = random.nextInt(4); n >= 0; n--) {
                sent[random.nextInt(sent.length)] = (byte) random.nextInt(256);
            }
            PlainJpeg out;
            try {
                out = PlainJpeg.of(sent);
            } catch (NotAPhotoException refused) {
                continue;
            }
            kept++;
            assertThat(PlainJpeg.of(out.bytes()).bytes())
                    .as("seed %d, %d", seed, i)
                    .isEqualTo(out.bytes());
            assertThat(text(out.bytes())).as("seed %d, %d", seed, i).doesNotContain("Exif\0\0MM");
        }
        assertThat(kept).isBetween(1_000, 19_999);
    }

    private static byte[] changed(byte[] bytes, int at, int value) {
        byte[] changed = Arrays.copyOf(bytes, bytes.length);
        changed[at] = (byte) value;
        return changed;
    }
}
