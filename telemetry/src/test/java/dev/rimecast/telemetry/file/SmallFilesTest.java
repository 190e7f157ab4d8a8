package dev.rimecast.telemetry.file;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.telemetry.file.csv.InputProblems;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class SmallFilesTest {
    private static final Instant MORNING = Instant.parse("2026-05-04T07:30:00Z");

    @TempDir
    Path directory;

    private Path file(String text) throws IOException {
        return Files.writeString(directory.resolve("in.csv"), text);
    }

    @Test
    void read_events_areThoseOfTheFile() throws IOException {
        Path file = file("""
                time,machine,site,event,detail,by,job
                2026-05-04T09:30:00+02:00,ice-1,,visit,scale,"Ann, B.",J-1
                2026-05-04T07:30:00Z,,s-1,call,no-ice,,
                """);

        List<EventRow> events = EventsFile.read(file);

        assertThat(events)
                .containsExactly(
                        new EventRow(
                                MORNING,
                                Optional.of("ice-1"),
                                Optional.empty(),
                                EventKind.VISIT,
                                "scale",
                                "Ann, B.",
                                "J-1"),
                        new EventRow(MORNING, Optional.empty(), Optional.of("s-1"), EventKind.CALL, "no-ice", "", ""));
        Register register = new Register(List.of(Machine.basic("ice-1", "s-9", "g")), List.of());
        assertThat(events)
                .extracting(event -> event.siteIn(register).orElse(""))
                .containsExactly("s-9", "s-1");

        Path copy = directory.resolve("copy.csv");
        EventsFile.write(copy, events);
        assertThat(EventsFile.read(copy)).isEqualTo(events);
    }

    @Test
    void read_badEvents_areAllReported() throws IOException {
        Path file = file("""
                time,machine,event,detail
                2026-05-04T07:30:00,ice-1,cleaned,
                2026-05-04T07:30:00Z,,cleaned,
                2026-05-04T07:30:00Z,ice-1,cleand,
                2026-05-04T07:30:00Z,ice-1,call,too-warm
                """);

        assertThatThrownBy(() -> EventsFile.read(file))
                .isInstanceOf(InputProblems.class)
                .hasMessageContaining("in.csv:2: time: must be a time with offset")
                .hasMessageContaining("in.csv:3: an event needs a machine or a site: fill one of the two")
                .hasMessageContaining("in.csv:4: event: must be one of call, visit, cleaned")
                .hasMessageContaining("did you mean 'cleaned'?")
                .hasMessageContaining("in.csv:5: detail: of a call must be one of no-ice, little-ice");
    }

    @Test
    void write_truth_isReadBackTheSame() throws IOException {
        List<TruthRow> truth = List.of(
                new TruthRow("ice-1", Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty()),
                new TruthRow(
                        "ice-2",
                        Optional.of(Cause.FAN_WEAK),
                        Optional.of(MORNING),
                        Optional.of(MORNING.plusSeconds(60)),
                        Optional.of(MORNING.plusSeconds(30))));
        Path file = directory.resolve("truth.csv");

        TruthFile.write(file, truth);

        assertThat(TruthFile.read(file)).isEqualTo(truth);
        assertThat(Files.readString(file)).isEqualTo("""
                        machine,cause,onset,stopped,deadline
                        ice-1,none,,,
                        ice-2,fan-weak,2026-05-04T07:30:00.000Z,2026-05-04T07:31:00.000Z,2026-05-04T07:30:30.000Z
                        """);
    }

    @Test
    void read_truthWithUnknownCause_isRefused() throws IOException {
        Path file = file("machine,cause\nice-1,fan-weaker\n");

        assertThatThrownBy(() -> TruthFile.read(file)).hasMessageContaining("did you mean 'fan-weak'?");
    }

    @Test
    void read_weather_isThatOfTheFile() throws IOException {
        Path file = file("date,site,max_c\n2026-05-04,s-1,31.5\n2026-05-05,s-1,-2\n");

        List<WeatherRow> weather = WeatherFile.read(file);

        assertThat(weather)
                .containsExactly(
                        new WeatherRow("s-1", LocalDate.of(2026, 5, 4), 31.5),
                        new WeatherRow("s-1", LocalDate.of(2026, 5, 5), -2));
        Path copy = directory.resolve("copy.csv");
        WeatherFile.write(copy, weather);
        assertThat(WeatherFile.read(copy)).isEqualTo(weather);
    }

    @Test
    void read_weatherWithADayTwice_isRefused() throws IOException {
        Path file = file("site,date,max_c\ns-1,2026-05-04,31\ns-1,2026-05-04,32\ns-2,2026-05-04,\n");

        assertThatThrownBy(() -> WeatherFile.read(file))
                .hasMessageContaining("in.csv:3: date: 2026-05-04 of site s-1 is here twice, first in line 2")
                .hasMessageContaining("in.csv:4: max_c: must not be empty");
    }
}
