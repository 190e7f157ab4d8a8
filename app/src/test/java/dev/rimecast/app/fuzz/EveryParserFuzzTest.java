package dev.rimecast.app.fuzz;

import static org.assertj.core.api.Assertions.assertThat;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.lang.reflect.Method;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;

class EveryParserFuzzTest {
    /** In that order: the inputs that are kept begin with their target's place. A new target goes to the end of its letters, and the kept inputs are made anew. */
    @Test
    void everyTarget_isInTheLongRun() {
        List<String> targets = Arrays.stream(ParsersFuzzTest.class.getDeclaredMethods())
                .filter(method -> method.isAnnotationPresent(FuzzTest.class))
                .map(Method::getName)
                .sorted()
                .toList();
        assertThat(EveryParserFuzz.names()).hasSize(20).isEqualTo(targets);
    }
}
