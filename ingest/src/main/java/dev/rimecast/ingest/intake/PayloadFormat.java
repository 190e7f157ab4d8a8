package dev.rimecast.ingest.intake;

/** How a pack is written; the topic says which. */
public enum PayloadFormat {
    JSON,
    CBOR
}
