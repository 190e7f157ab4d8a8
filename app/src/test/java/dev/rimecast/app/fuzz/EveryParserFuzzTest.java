package dev.rimecast.app.fuzz;

import static org.assertj.core.api.Assertions.assertThat;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.lang.reflect.Method;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;

class EveryParserFuzzTest {
    /** The first twenty are by name, and newer ones behind them: the inputs that are kept begin with their target's place. */
    @Test
    void everyTarget_isInTheLongRun_andTheFirstStayWhereTheyWere() {
        List<String> targets = Arrays.stream(ParsersFuzzTest.class.getDeclaredMethods())
                .filter(method -> method.isAnnotationPresent(FuzzTest.class))
                .map(Method::getName)
                .toList();
        assertThat(EveryParserFuzz.names()).hasSize(25).containsExactlyInAnyOrderElementsOf(targets);
        assertThat(EveryParserFuzz.names().subList(0, 20))
                .isSorted()
                .startsWith("addresses")
                .endsWith("webhookUrl");
    }
}
