package dev.rimecast.alerts.consume;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.view.Changes.Change;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class ChangeWireTest {
    /** PostgreSQL 18, NOTIFY: a payload must be shorter than 8000 bytes. */
    private static final int POSTGRES_LIMIT = 8000;

    private static final List<Change> MANY = IntStream.range(0, 1_000)
            .mapToObj(i -> new Change("reading", "harbour-\u00e9", "ice-" + i, i % 2 == 0 ? "" : "id-" + i))
            .toList();

    @Test
    void texts_areShortEnough_andBringEveryChangeOnceInOrder() {
        List<String> texts = ChangeWire.encode("me", MANY);

        assertThat(texts)
                .hasSizeGreaterThan(1)
                .allSatisfy(text ->
                        assertThat(text.getBytes(StandardCharsets.UTF_8).length).isLessThan(POSTGRES_LIMIT));
        List<Change> found = new ArrayList<>();
        texts.forEach(text -> found.addAll(ChangeWire.decode(text, "other").orElseThrow()));
        assertThat(found).isEqualTo(MANY);
    }

    @Test
    void ownText_isNotHeard() {
        assertThat(ChangeWire.encode("me", MANY))
                .allSatisfy(text -> assertThat(ChangeWire.decode(text, "me")).isEmpty());
        assertThat(ChangeWire.encode("me", List.of())).isEmpty();
    }

    @Test
    void textOfAnotherVersion_isEverything() {
        assertThat(ChangeWire.decode("other\u001ealert\u001fharbour", "me")).contains(List.of(Change.EVERYTHING));
    }
}
