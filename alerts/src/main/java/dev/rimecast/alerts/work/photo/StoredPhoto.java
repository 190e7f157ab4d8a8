package dev.rimecast.alerts.work.photo;

import java.time.Instant;
import java.util.UUID;

/**
 * What is known of a photo without its picture.
 *
 * @param id made by whoever sends it, so that sending it twice stores it once
 * @param bytes how many are kept
 * @param sha256 of what is kept, in hexadecimal digits
 * @param enteredBy whose account sent it
 */
public record StoredPhoto(
        UUID id, int width, int height, int bytes, String sha256, String enteredBy, Instant enteredAt) {}
