package dev.rimecast.alerts.view;

import java.util.Optional;

/**
 * Somebody who is told.
 *
 * @param target where to, without secrets
 * @param hours when, in words; empty where at any time
 * @param closed why nothing is sent there, where the receiver asked for that
 */
public record ReceiverView(
        String name, String channel, String target, Optional<String> hours, Optional<String> closed) {}
