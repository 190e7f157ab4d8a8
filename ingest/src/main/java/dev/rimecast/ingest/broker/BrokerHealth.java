package dev.rimecast.ingest.broker;

/**
 * Whether the broker is there.
 *
 * @param isConnected and our subscriptions are granted
 * @param inWords for an operator: what is, or why it is not
 */
public record BrokerHealth(boolean isConnected, String inWords) {}
