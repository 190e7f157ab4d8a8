package dev.rimecast.alerts.work;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.work.Past.Ended;
import dev.rimecast.alerts.work.Past.Stop;
import dev.rimecast.telemetry.finding.Cause.Origin;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

/** What each figure counts, and what it leaves out. */
class PastFiguresTest {
    private static final Instant NOON = Instant.parse("2026-05-04T12:00:00Z");

    private static String figure(Past past, String code) {
        return PastFigures.of(past).stream()
                .filter(each -> each.code().equals(code))
                .map(each -> each.count() + " of " + each.of())
                .findFirst()
                .orElseThrow();
    }

    private static Stop stop(String machine, int fromHour, int untilHour) {
        return new Stop(machine, NOON.plusSeconds(3600L * fromHour), NOON.plusSeconds(3600L * untilHour));
    }

    private static Ended ended(
            boolean worked, boolean visited, boolean answered, @Nullable Origin reported, @Nullable Origin probable) {
        return new Ended(
                UUID.randomUUID(),
                worked,
                visited,
                answered,
                Optional.ofNullable(reported),
                Optional.ofNullable(probable));
    }

    @Test
    void hoursWithoutIce_ofStopsThatOverlap_countOnceForEachMachine() {
        Past past = new Past(
                List.of(),
                List.of(stop("a", 0, 10), stop("a", 2, 4), stop("a", 8, 12), stop("a", 20, 21), stop("b", 0, 3)),
                Set.of(),
                100 * 3600);

        assertThat(figure(past, "hours-without-ice")).isEqualTo("16 of 100");
    }

    @Test
    void madeOnSite_goesByTheReport_andByTheProbableCauseOnlyWhereTheSiteEndedIt() {
        Past past = new Past(
                List.of(
                        ended(true, true, true, Origin.SITE, Origin.PART),
                        ended(true, true, false, Origin.PART, Origin.SITE),
                        ended(false, false, true, null, Origin.SITE),
                        ended(false, false, false, null, Origin.SITE),
                        ended(true, false, true, null, Origin.SITE)),
                List.of(),
                Set.of(),
                0);

        assertThat(figure(past, "made-on-site")).isEqualTo("2 of 3");
    }

    @Test
    void visitsAvoided_areCasesThatEndedAfterAnAnswerWithoutWorkAndVisit() {
        Past past = new Past(
                List.of(
                        ended(false, false, true, null, null),
                        ended(false, true, true, null, null),
                        ended(true, false, true, null, null),
                        ended(false, false, false, null, null)),
                List.of(),
                Set.of(),
                0);

        assertThat(figure(past, "visits-avoided")).isEqualTo("1 of 4");
    }
}
