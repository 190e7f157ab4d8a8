package dev.rimecast.alerts.visits.file;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.alerts.advice.AdviceBook;
import dev.rimecast.alerts.visits.plan.Engineer;
import dev.rimecast.alerts.visits.plan.PartLeads;
import dev.rimecast.alerts.visits.plan.PartOrder;
import dev.rimecast.alerts.visits.plan.Team;
import dev.rimecast.telemetry.file.csv.InputProblems;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class VisitFilesTest {
    private static final LocalDate MONDAY = LocalDate.of(2026, 5, 4);

    @TempDir
    Path directory;

    private Path file(String text) throws IOException {
        return Files.writeString(directory.resolve("file.csv"), text);
    }

    @Test
    void engineers_daysSkillsAndSites_areRead() throws IOException {
        Team team = EngineersFile.read(file("""
                engineer,days,skills,sites,minutes_per_day
                Zoe,fri-mon,appliance;electrical,a;b,300
                Ben,,*,*,
                """));

        assertThat(team.isKnown()).isTrue();
        assertThat(team.engineers())
                .containsExactly(
                        new Engineer(
                                "Ben",
                                Set.of(
                                        DayOfWeek.MONDAY,
                                        DayOfWeek.TUESDAY,
                                        DayOfWeek.WEDNESDAY,
                                        DayOfWeek.THURSDAY,
                                        DayOfWeek.FRIDAY),
                                Optional.empty(),
                                Optional.empty(),
                                480),
                        new Engineer(
                                "Zoe",
                                Set.of(DayOfWeek.FRIDAY, DayOfWeek.SATURDAY, DayOfWeek.SUNDAY, DayOfWeek.MONDAY),
                                Optional.of(Set.of("appliance", "electrical")),
                                Optional.of(Set.of("a", "b")),
                                300));
    }

    @Test
    void engineers_everythingWrong_isToldAtOnceWithItsLine() throws IOException {
        Path file = file("""
                engineer,days,skills,minutes_per_day
                Zoe,someday,appliance,300
                Zoe,mon,Big Skill,3
                """);

        assertThatThrownBy(() -> EngineersFile.read(file))
                .isInstanceOfSatisfying(
                        InputProblems.class,
                        wrong -> assertThat(wrong.problems())
                                .extracting(problem -> problem.line() + " " + problem.column())
                                .containsExactly("2 days", "3 engineer", "3 skills", "3 minutes_per_day"));
    }

    @Test
    void engineers_away_doNotWorkFromTheFirstToTheLastOfThoseDays() throws IOException {
        Engineer noa = EngineersFile.read(file("""
                        engineer,skills,away
                        Noa,*,2026-05-05..2026-05-06; 2026-05-08
                        """)).named("Noa").orElseThrow();

        assertThat(MONDAY.datesUntil(MONDAY.plusDays(7)).filter(noa::works))
                .containsExactly(MONDAY, LocalDate.of(2026, 5, 7));
    }

    @Test
    void engineers_awayThatCanNotBeRead_isTold() throws IOException {
        Path file = file("""
                engineer,skills,away
                A,*,2026-05-06..2026-05-05
                B,*,2026-02-30
                C,*,2026-05-05..2026-05-06..2026-05-07
                D,*,2026-05-05..
                """);

        assertThatThrownBy(() -> EngineersFile.read(file))
                .isInstanceOfSatisfying(
                        InputProblems.class,
                        wrong -> assertThat(wrong.problems())
                                .extracting(problem -> problem.line() + " " + problem.column())
                                .containsExactly("2 away", "3 away", "4 away", "5 away"));
    }

    @Test
    void parts_leadDays_areReadAndWrongOnesTold() throws IOException {
        PartLeads leads = PartsFile.read(file("part,lead_days\nFan motor,2\n"));

        assertThat(leads.orders(List.of("Fan motor", "Hose"), List.of(), MONDAY))
                .containsExactly(new PartOrder("Fan motor", 2, false, MONDAY));
        Path wrong = file("part,lead_days\nFan motor,soon\nfan motor,\n");
        assertThatThrownBy(() -> PartsFile.read(wrong))
                .isInstanceOfSatisfying(
                        InputProblems.class,
                        problems -> assertThat(problems.problems())
                                .extracting(problem -> problem.line() + " " + problem.column())
                                .containsExactly("2 lead_days", "3 part", "3 lead_days"));
    }

    @Test
    void samples_nameSkillsThatTheAdviceHas() throws IOException {
        Team team = EngineersFile.read(Path.of("../samples/engineers.csv"));

        assertThat(team.engineers()).hasSize(3);
        assertThat(team.engineers())
                .allSatisfy(e -> assertThat(AdviceBook.standard().skills().keySet())
                        .containsAll(e.skills().orElseThrow()));
        PartLeads parts = PartsFile.read(Path.of("../samples/parts.csv"));
        assertThat(parts.days()).hasSize(2);
        assertThat(parts.unknown(AdviceBook.standard().parts())).isEmpty();
    }

    @Test
    void parts_thatNoAdviceNames_areToldWithTheirLine() throws IOException {
        PartLeads leads = PartsFile.read(file("part,lead_days\nFan moter,2\nDrain pump,3\nspray bar,1\nCrane,9\n"));

        assertThat(leads.unknown(AdviceBook.standard().parts())).containsExactly("line 2: fan moter", "line 5: crane");
    }
}
