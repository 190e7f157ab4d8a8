package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.work.photo.StoredPhoto;
import java.time.Instant;
import java.util.UUID;

/**
 * What is known of a photo of work; its picture is at an address of its own.
 *
 * @param bytes how many are kept
 * @param sha256 of what is kept
 */
public record PhotoJson(UUID id, int width, int height, int bytes, String sha256, String enteredBy, Instant enteredAt) {

    /** @param added false where it had been stored before, and nothing was added */
    public record SentJson(boolean added, PhotoJson photo) {}

    public static PhotoJson of(StoredPhoto photo) {
        return new PhotoJson(
                photo.id(),
                photo.width(),
                photo.height(),
                photo.bytes(),
                photo.sha256(),
                photo.enteredBy(),
                photo.enteredAt());
    }
}
