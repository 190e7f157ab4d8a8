package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.net.Socket;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.List;
import java.util.UUID;
import java.util.stream.IntStream;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import tools.jackson.databind.JsonNode;

/** Photos of a report of work over HTTP. */
class PhotosApiTest {
    private static final String JPEG = "image/jpeg";

    private static FakeServer server;
    private static Web engineer;

    @BeforeAll
    static void start() {
        server = FakeServer.start(FakeFleets::small);
        engineer = new Web(server, server.headers(Role.ENGINEER));
    }

    @AfterAll
    static void stop() {
        server.close();
    }

    private static UUID report() {
        UUID id = UUID.randomUUID();
        HttpResponse<String> answer = engineer.post(
                "/api/v1/machines/ice-0007/work-reports",
                "{\"id\":\"" + id + "\",\"found\":\"fan-weak\",\"done\":[{\"what\":\"cleaned\"}]}");
        assertThat(answer.statusCode()).isEqualTo(201);
        return id;
    }

    private static String address(UUID report, UUID photo) {
        return "/api/v1/work-reports/" + report + "/photos/" + photo;
    }

    private static byte[] withComment(byte[] jpeg) {
        byte[] comment = "\u00ff\u00fe\0\u000b52N, 4E..".getBytes(StandardCharsets.ISO_8859_1);
        byte[] joined = new byte[jpeg.length + comment.length];
        System.arraycopy(jpeg, 0, joined, 0, 2);
        System.arraycopy(comment, 0, joined, 2, comment.length);
        System.arraycopy(jpeg, 2, joined, 2 + comment.length, jpeg.length - 2);
        return joined;
    }

    @Test
    void photo_sentTwice_isStoredOnce_shownWithItsReport_andHasNothingButItsPicture() throws IOException {
        UUID report = report();
        String address = address(report, UUID.randomUUID());
        byte[] sent = withComment(Jpegs.of(320, 240));

        HttpResponse<String> first = engineer.put(address, JPEG, sent);
        HttpResponse<String> again = engineer.put(address, JPEG, Jpegs.small());

        assertThat(first.statusCode()).isEqualTo(201);
        assertThat(again.statusCode()).isEqualTo(200);
        assertThat(Web.parse(again).path("added").asBoolean()).isFalse();
        JsonNode photo = Web.parse(first).path("photo");
        assertThat(Web.parse(again).path("photo")).isEqualTo(photo);
        assertThat(photo.path("width").asInt()).isEqualTo(320);
        assertThat(photo.path("height").asInt()).isEqualTo(240);
        assertThat(photo.path("enteredBy").stringValue()).isEqualTo("engineer");
        assertThat(engineer.json("/api/v1/work-reports/" + report).path("photos"))
                .containsExactly(photo);

        HttpResponse<byte[]> picture = engineer.bytes(address);
        assertThat(picture.statusCode()).isEqualTo(200);
        assertThat(picture.headers().map())
                .containsEntry("Content-Type", java.util.List.of(JPEG))
                .containsEntry("X-Content-Type-Options", java.util.List.of("nosniff"))
                .containsEntry("Cache-Control", java.util.List.of("private, no-cache"));
        assertThat(picture.headers().firstValue("Content-Disposition").orElseThrow())
                .startsWith("inline");
        assertThat(picture.body()).hasSize(photo.path("bytes").asInt());
        assertThat(new String(picture.body(), StandardCharsets.ISO_8859_1)).doesNotContain("52N");
        assertThat(ImageIO.read(new ByteArrayInputStream(picture.body())).getWidth())
                .isEqualTo(320);
        String tag = picture.headers().firstValue("ETag").orElseThrow();
        assertThat(tag).isEqualTo('"' + photo.path("sha256").stringValue() + '"');
        assertThat(engineer.bytes(address, "If-None-Match", tag).statusCode()).isEqualTo(304);
    }

    @Test
    void whatIsNoPhoto_isRefusedWithItsReason() {
        UUID report = report();
        String address = address(report, UUID.randomUUID());
        byte[] good = Jpegs.small();

        refused(engineer.put(address, JPEG, new byte[] {1, 2, 3, 4}), 400, "It is no JPEG.");
        refused(engineer.put(address, JPEG, Arrays.copyOf(good, good.length / 2)), 400, "It is a broken JPEG");
        refused(engineer.put(address, JPEG, Jpegs.of(2_049, 8)), 400, "2049 × 8 pixels");
        refused(engineer.put(address, "image/png", good), 415, "image/jpeg");
        refused(engineer.put(address, JPEG, Arrays.copyOf(good, (1 << 20) + 1)), 413, "1024 KiB");
        assertThat(engineer.put(address, JPEG, Arrays.copyOf(good, 1 << 20)).statusCode())
                .as("just as much as may be, most of it behind the picture's end")
                .isEqualTo(201);
    }

    private static void refused(HttpResponse<String> answer, int status, String why) {
        assertThat(answer.statusCode()).isEqualTo(status);
        assertThat(Web.parse(answer).path("detail").stringValue()).contains(why);
    }

    @Test
    void report_takesFourPhotos_andNoFifth_norOneOfAnotherReport() {
        UUID report = report();
        UUID first = UUID.randomUUID();
        assertThat(engineer.put(address(report, first), JPEG, Jpegs.small()).statusCode())
                .isEqualTo(201);
        for (int i = 0; i < 3; i++) {
            Jpegs.stored(engineer, report.toString());
        }

        refused(engineer.put(address(report, UUID.randomUUID()), JPEG, Jpegs.small()), 409, "4 photos at most");
        assertThat(engineer.put(address(report, first), JPEG, Jpegs.small()).statusCode())
                .as("a repeat is none more")
                .isEqualTo(200);
        UUID other = report();
        refused(engineer.put(address(other, first), JPEG, Jpegs.small()), 409, "another report");
        assertThat(engineer.get(address(other, first)).statusCode()).isEqualTo(404);
        assertThat(engineer.json("/api/v1/work-reports/" + report)
                        .path("photos")
                        .size())
                .isEqualTo(4);
    }

    /** A phone that loses its connection meanwhile is no failure of ours. */
    @Test
    void uploadThatIsBrokenOff_isAProblemOfItsSender() throws IOException {
        String head = "PUT " + address(report(), UUID.randomUUID()) + " HTTP/1.1\r\nHost: localhost:" + server.port()
                + "\r\nContent-Type: image/jpeg\r\nContent-Length: 1000\r\nConnection: close\r\n";
        List<String> headers = server.headers(Role.ENGINEER);
        for (int i = 0; i < headers.size(); i += 2) {
            head += headers.get(i) + ": " + headers.get(i + 1) + "\r\n";
        }
        try (Socket socket = new Socket("127.0.0.1", server.port())) {
            socket.setSoTimeout(10_000);
            socket.getOutputStream().write((head + "\r\nhalf").getBytes(StandardCharsets.US_ASCII));
            socket.shutdownOutput();

            String answer = new String(socket.getInputStream().readAllBytes(), StandardCharsets.UTF_8);

            assertThat(answer).startsWith("HTTP/1.1 400").contains("the body ended early");
        }
    }

    @Test
    void manyPhotosInAMinute_areHeldUp_forThatAccountOnly() {
        UUID report = report();
        Web hasty = engineer.as(server.account("Hasty", Role.ENGINEER, SiteScope.EVERY));
        assertThat(IntStream.range(0, 90)
                        .map(i -> hasty.put(address(report, UUID.randomUUID()), JPEG, new byte[] {1})
                                .statusCode())
                        .distinct())
                .contains(400, 429);
        assertThat(engineer.put(address(report, UUID.randomUUID()), JPEG, new byte[] {1})
                        .statusCode())
                .isEqualTo(400);
    }
}
