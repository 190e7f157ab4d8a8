package dev.rimecast.ingest.mqtt;

import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;

/** A fresh endpoint for each test. */
abstract class EndpointBench {
    EndpointFixture fixture;

    @BeforeEach
    void start() {
        fixture = new EndpointFixture();
    }

    @AfterEach
    void stop() {
        fixture.close();
    }
}
