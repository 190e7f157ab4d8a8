package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;

import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.http.HttpResponse;
import java.util.UUID;
import javax.imageio.ImageIO;

/** Pictures for tests. */
public final class Jpegs {
    private Jpegs() {}

    public static byte[] small() {
        return of(40, 30);
    }

    /** Puts one to a report, which takes it. */
    static UUID stored(Web web, String report) {
        UUID id = UUID.randomUUID();
        HttpResponse<String> answer =
                web.put("/api/v1/work-reports/" + report + "/photos/" + id, "image/jpeg", small());
        assertThat(answer.statusCode()).isEqualTo(201);
        return id;
    }

    /** A disc on a dark ground. */
    public static byte[] of(int width, int height) {
        BufferedImage image = new BufferedImage(width, height, BufferedImage.TYPE_INT_RGB);
        Graphics2D graphics = image.createGraphics();
        graphics.setColor(Color.ORANGE);
        graphics.fillOval(0, 0, width, height);
        graphics.dispose();
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        try {
            ImageIO.write(image, "jpeg", out);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return out.toByteArray();
    }
}
