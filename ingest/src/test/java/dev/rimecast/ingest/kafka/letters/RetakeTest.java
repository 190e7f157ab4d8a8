package dev.rimecast.ingest.kafka.letters;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.ingest.kafka.letters.DeadLetter.Source;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.PackNumber;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Site;
import dev.rimecast.telemetry.reading.Reading;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** What may come behind what was said since, and what may not. */
class RetakeTest {
    private static final Instant NOON = Instant.parse("2026-05-04T12:00:00Z");
    private static final Source SITES = new Source("analytics", "sites", 3, 118);

    private static Retake of(SiteRecord entry) {
        return Retake.of(SITES, "harbour", SiteLogCodec.encode(entry));
    }

    @Test
    void pack_goesToItsSite_withoutTheNumberThatWasPassedOver() {
        List<Reading> readings = List.of(Reading.number("ice-1", Channel.EVAPORATOR_TEMPERATURE, 1_000, -6));
        var pack = new SiteRecord.Pack("gw-1", Optional.of(new PackNumber("b1", 7)), NOON, readings, 2);

        assertThat(of(pack))
                .isEqualTo(new Retake.ToSite(
                        "pack of gateway gw-1, received 2026-05-04T12:00:00Z, 1 readings",
                        "harbour",
                        new SiteRecord.Pack("gw-1", Optional.empty(), NOON, readings, 2)));
    }

    @Test
    void event_goesToItsSiteAsItWas() {
        var event = new SiteRecord.Happened(NOON, Optional.of("ice-1"), EventKind.CLEANED, "", "Noa", "");

        assertThat(of(event))
                .isEqualTo(
                        new Retake.ToSite("event cleaned at 2026-05-04T12:00:00Z of machine ice-1", "harbour", event));
    }

    static Stream<SiteRecord> whatHoldsFromHereOn() {
        return Stream.of(
                new SiteRecord.Registered(NOON, Machine.basic("ice-1", "harbour", "gw-1")),
                new SiteRecord.Unregistered(NOON, "ice-1"),
                new SiteRecord.SiteChanged(NOON, Site.basic("harbour")),
                new SiteRecord.PolicyActivated(NOON, "v2", "version: 2"),
                new SiteRecord.WeatherExpected(
                        NOON, List.of(new SiteRecord.WarmestOfDay(LocalDate.of(2026, 5, 5), 31))),
                new SiteRecord.Presence(NOON, "gw-1", false),
                new SiteRecord.Tick(NOON));
    }

    @ParameterizedTest
    @MethodSource("whatHoldsFromHereOn")
    void whatHoldsFromHereOn_isNotPutBehindWhatWasSaidSince(SiteRecord entry) {
        assertThat(of(entry)).isInstanceOfSatisfying(Retake.Impossible.class, no -> {
            assertThat(no.content()).isNotEmpty();
            assertThat(no.why()).endsWith(".").contains(". ");
        });
    }

    @Test
    void bytesThatNobodyReads_waitForAVersionThatDoes() {
        assertThat(Retake.of(SITES, "harbour", "no record".getBytes(StandardCharsets.UTF_8)))
                .isInstanceOfSatisfying(
                        Retake.Impossible.class, no -> assertThat(no.why()).contains("Install one that can"));
        assertThat(Retake.of(SITES, "harbour", new byte[0])).isInstanceOf(Retake.Impossible.class);
    }

    @Test
    void packWithoutASite_goesNowhere() {
        byte[] pack = SiteLogCodec.encode(new SiteRecord.Pack("gw-1", Optional.empty(), NOON, List.of(), 0));

        assertThat(Retake.of(SITES, "", pack)).isInstanceOf(Retake.Impossible.class);
        assertThat(Retake.of(SITES, "Harbour/North", pack)).isInstanceOf(Retake.Impossible.class);
    }

    @Test
    void whatAnalyticsDecided_goesToTheDatabaseAlone() {
        assertThat(Retake.of(new Source("alerts", "findings", 0, 1), "harbour", new byte[] {1}))
                .isInstanceOf(Retake.ToDatabase.class);
        assertThat(Retake.of(new Source("alerts", "acks", 0, 1), "harbour", new byte[] {1}))
                .isInstanceOf(Retake.Impossible.class);
        assertThat(Retake.of(new Source("analytics", "", 0, 0), "harbour", new byte[] {1}))
                .isInstanceOf(Retake.Impossible.class);
    }
}
