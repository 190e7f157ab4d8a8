package dev.rimecast.alerts.notice.send;

import dev.rimecast.alerts.notice.text.Content;
import java.time.Instant;
import java.util.UUID;

/**
 * What is sent.
 *
 * @param id the same for every attempt, so that a receiver can drop a repeat
 * @param now of this attempt
 */
public record Message(UUID id, String kind, Content content, Instant now) {}
