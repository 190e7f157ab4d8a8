package dev.rimecast.app.spine;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.time.Duration;

/** The little of HTTP that these tests need. */
final class Http {
    private static final HttpClient CLIENT =
            HttpClient.newBuilder().connectTimeout(Duration.ofSeconds(5)).build();

    private Http() {}

    /** The body, or an empty text where nobody answers. */
    static String get(String uri) {
        try {
            HttpRequest request = HttpRequest.newBuilder(URI.create(uri))
                    .timeout(Duration.ofSeconds(20))
                    .build();
            return CLIENT.send(request, HttpResponse.BodyHandlers.ofString()).body();
        } catch (java.net.ConnectException nobodyYet) {
            return "";
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return "";
        }
    }
}
