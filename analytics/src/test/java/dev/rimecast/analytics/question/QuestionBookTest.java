package dev.rimecast.analytics.question;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.yaml.YamlProblems;
import java.util.EnumSet;
import java.util.Set;
import org.junit.jupiter.api.Test;

class QuestionBookTest {

    @Test
    void standard_everyCause_isTouchedByAQuestion() {
        Set<Cause> untouched = EnumSet.allOf(Cause.class);
        QuestionBook.STANDARD
                .questions()
                .forEach(question -> untouched.removeAll(question.given().keySet()));
        QuestionBook.STANDARD.standsFor().forEach((group, parts) -> {
            if (parts.keySet().stream().noneMatch(untouched::contains)) {
                untouched.remove(group);
            }
        });

        assertThat(untouched).isEmpty();
    }

    /** A row that is like all others says nothing, and would be dead weight in the file. */
    @Test
    void standard_everyRow_differsFromTheOthers() {
        QuestionBook.STANDARD
                .questions()
                .forEach(question -> assertThat(question.given().values())
                        .as(question.id())
                        .isNotEmpty()
                        .doesNotContain(question.otherwise()));
    }

    @Test
    void parse_rowThatIsNoDistribution_namesIt() {
        String yaml = "reach_minutes: {operator: 0, site: 10, engineer: 60}\n"
                + "questions:\n"
                + "  filter:\n"
                + "    number: 1\n"
                + "    who: site\n"
                + "    minutes: 5\n"
                + "    answers: [full, clean]\n"
                + "    given: {airflow-restricted: [0.8, 0.3]}\n"
                + "    otherwise: [0.2, 0.8]\n";

        assertThatThrownBy(() -> QuestionBook.parse("q.yaml", yaml))
                .isInstanceOf(YamlProblems.class)
                .hasMessageContaining("questions.filter.given.airflow-restricted")
                .hasMessageContaining("together 1");
    }
}
