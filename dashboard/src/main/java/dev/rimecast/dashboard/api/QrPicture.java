package dev.rimecast.dashboard.api;

import com.google.zxing.BarcodeFormat;
import com.google.zxing.EncodeHintType;
import com.google.zxing.WriterException;
import com.google.zxing.common.BitMatrix;
import com.google.zxing.qrcode.QRCodeWriter;
import com.google.zxing.qrcode.decoder.ErrorCorrectionLevel;
import dev.rimecast.dashboard.json.PeopleJson.PictureJson;
import java.util.Map;

/** A text as a QR code (ISO/IEC 18004), for a camera. */
final class QrPicture {
    /** Light squares around it; fewer than four are not read by every camera (ISO/IEC 18004, 9.1). */
    private static final int MARGIN = 4;
    /** Level M: 15 % of it may be hidden by a finger or a reflection. */
    private static final Map<EncodeHintType, Object> HOW =
            Map.of(EncodeHintType.MARGIN, MARGIN, EncodeHintType.ERROR_CORRECTION, ErrorCorrectionLevel.M);

    private QrPicture() {}

    /** @param text of ASCII, at most 2,331 bytes */
    static PictureJson of(String text) {
        try {
            // As small as it gets: a square is a unit.
            BitMatrix squares = new QRCodeWriter().encode(text, BarcodeFormat.QR_CODE, 0, 0, HOW);
            return new PictureJson(squares.getWidth(), path(squares));
        } catch (WriterException e) {
            throw new IllegalStateException(text.length() + " characters are too many for a picture", e);
        }
    }

    /** A rectangle for each run of dark squares in a row. */
    private static String path(BitMatrix squares) {
        StringBuilder path = new StringBuilder();
        for (int y = 0; y < squares.getHeight(); y++) {
            int x = 0;
            while (x < squares.getWidth()) {
                int begin = x;
                while (x < squares.getWidth() && squares.get(x, y)) {
                    x++;
                }
                if (x > begin) {
                    int run = x - begin;
                    path.append('M').append(begin).append(' ').append(y);
                    path.append('h').append(run).append("v1h-").append(run).append('z');
                }
                x++;
            }
        }
        return path.toString();
    }
}
