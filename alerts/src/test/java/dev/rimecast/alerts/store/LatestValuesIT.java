package dev.rimecast.alerts.store;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.OwnDatabase;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** Newest values on a real database, as whoever asks the view has them. */
class LatestValuesIT {
    private static final long T = 1_772_582_400_123L;

    private static OwnDatabase own;

    private final LatestValues values = new LatestValues();

    @BeforeAll
    static void start() {
        own = new OwnDatabase();
    }

    @AfterAll
    static void stop() {
        own.close();
    }

    @Test
    void ofTwoValues_theLaterOneStands_andOfTwoAtOneTimeTheFirst() {
        add(values, temperature("ice-a", T, 4), temperature("ice-a", T, 5), temperature("ice-a", T - 1, 6));
        assertThat(rows("ice-a")).containsExactly("evaporator_temperature " + T + " 4 ");
        add(values, temperature("ice-a", T - 1, 7), temperature("ice-a", T + 1, 8));
        assertThat(rows("ice-a")).containsExactly("evaporator_temperature " + (T + 1) + " 8 ");
    }

    @Test
    void everyKindOfChannel_isThereAsItWasSaid() {
        add(
                values,
                Reading.phase("ice-b", T, Phase.HARVEST),
                Reading.text("ice-b", Channel.CONTROLLER_STATUS, T + 1, "E 4"),
                Reading.flag("ice-b", Channel.BIN_FULL, T + 2, true),
                Reading.number("ice-b", Channel.ICE_MASS, T + 3, 0.1));
        assertThat(rows("ice-b"))
                .containsExactly(
                        "bin_full " + (T + 2) + " 1 ",
                        "controller_status " + (T + 1) + " 0 E 4",
                        "ice_mass " + (T + 3) + " 0.1 ",
                        "phase " + T + " " + Phase.HARVEST.ordinal() + " " + Phase.HARVEST.code());
    }

    @Test
    void otherInstanceThatHasWrittenTheMachine_losesNothing() {
        LatestValues other = new LatestValues();
        add(values, temperature("ice-c", T, 1), temperature("ice-d", T, 1));
        add(other, Reading.flag("ice-c", Channel.BIN_FULL, T + 5, true), temperature("ice-c", T + 5, 2));

        // The first one does not know of it: its own news count, what is older than the other's does not.
        add(
                values,
                temperature("ice-c", T + 3, 3),
                temperature("ice-d", T + 3, 3),
                Reading.number("ice-c", Channel.WATER_TEMPERATURE, T + 3, 9));

        assertThat(rows("ice-c"))
                .containsExactly(
                        "bin_full " + (T + 5) + " 1 ",
                        "evaporator_temperature " + (T + 5) + " 2 ",
                        "water_temperature " + (T + 3) + " 9 ");
        assertThat(rows("ice-d")).containsExactly("evaporator_temperature " + (T + 3) + " 3 ");
        add(values, temperature("ice-c", T + 6, 4));
        assertThat(rows("ice-c")).contains("evaporator_temperature " + (T + 6) + " 4 ");
    }

    /** A channel that is added needs a place: a migration that adds it. */
    @Test
    void places_areTheOrderOfChannels() {
        List<String> places = own.database()
                .jdbi()
                .withHandle(handle -> handle.createQuery("select channel from channel_place order by place")
                        .mapTo(String.class)
                        .list());
        assertThat(places)
                .containsExactlyElementsOf(
                        Arrays.stream(Channel.values()).map(Channel::code).toList());
    }

    private static Reading temperature(String machine, long at, double celsius) {
        return Reading.number(machine, Channel.EVAPORATOR_TEMPERATURE, at, celsius);
    }

    private static void add(LatestValues values, Reading... readings) {
        own.database().jdbi().useTransaction(handle -> values.add(handle, List.of(readings)));
    }

    private static List<String> rows(String machine) {
        return own.database()
                .jdbi()
                .withHandle(handle -> handle.createQuery(
                                "select channel || ' ' || (extract(epoch from at) * 1000)::bigint || ' ' || value || ' ' || text"
                                        + " from latest_value where machine = :machine order by channel")
                        .bind("machine", machine)
                        .mapTo(String.class)
                        .list());
    }
}
