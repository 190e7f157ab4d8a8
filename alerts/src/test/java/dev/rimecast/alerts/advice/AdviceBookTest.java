package dev.rimecast.alerts.advice;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.alerts.life.Findings;
import dev.rimecast.alerts.view.Advice.EngineerCheck;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.yaml.YamlProblems;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.MethodSource;

class AdviceBookTest {
    private static final AdviceBook BOOK = AdviceBook.standard();

    static Stream<AdviceText> everyEntry() {
        return Stream.concat(
                Stream.of(Cause.values()).map(BOOK::of),
                Stream.of(Condition.values()).map(BOOK::of));
    }

    @ParameterizedTest
    @MethodSource("everyEntry")
    void entry_any_hasEveryPart(AdviceText entry) {
        assertThat(entry.headline()).isNotBlank();
        assertThat(entry.siteChecks()).isNotEmpty().hasSizeLessThanOrEqualTo(4);
        assertThat(entry.engineerChecks()).isNotEmpty();
        assertThat(entry.parts()).isNotEmpty();
        assertThat(entry.minutes()).isBetween(10, 240);
        assertThat(entry.skills()).isNotEmpty();
        assertThat(entry.cautions()).isNotEmpty();
        assertThat(entry.deferTo()).isNotEmpty();
    }

    /** The cautions that design.md asks for: isolation, moving and hot parts, fins, flammable refrigerant. */
    @ParameterizedTest
    @MethodSource("everyEntry")
    void entry_thatOpensAPanel_carriesTheCautions(AdviceText entry) {
        if (entry.engineerChecks().stream().noneMatch(EngineerCheck::opensPanel)) {
            return; // nothing is opened; the next test makes sure that this is not the rule
        }
        String cautions = String.join(" ", entry.cautions());
        assertThat(cautions)
                .contains("Isolate the power", "lock it off", "stop tap", "Fan and pump", "sharp", "60 °C", "A3");
    }

    @Test
    void entries_ofParts_openAPanel() {
        for (Cause cause : Cause.values()) {
            if (cause.origin() == Cause.Origin.PART || cause.origin() == Cause.Origin.CIRCUIT) {
                assertThat(BOOK.of(cause).engineerChecks()).as(cause.code()).anyMatch(EngineerCheck::opensPanel);
            }
        }
    }

    @ParameterizedTest
    @MethodSource("everyEntry")
    void siteChecks_any_needNoTool(AdviceText entry) {
        assertThat(String.join(" ", entry.siteChecks()).toLowerCase(Locale.ROOT))
                .doesNotContain(
                        "screw", "multimeter", "remove the panel", "cover off", "wrench", "voltage", "pressure gauge");
    }

    /** Regulation (EU) 2024/573, EN 378 and EPA section 608 leave the circuit to certified persons (from memory). */
    @Test
    void circuitCauses_any_demandACertifiedPersonAndDeferToRefrigerantRules() {
        for (Cause cause : Cause.values()) {
            if (cause.origin() == Cause.Origin.CIRCUIT) {
                AdviceText entry = BOOK.of(cause);
                assertThat(entry.headline()).as(cause.code()).contains("certified person");
                assertThat(entry.skills()).as(cause.code()).anyMatch(s -> s.startsWith("Certified for refrigerant"));
                assertThat(entry.deferTo()).as(cause.code()).anyMatch(d -> d.startsWith("Refrigerant handling rules"));
                assertThat(entry.cautions()).as(cause.code()).anyMatch(c -> c.contains("Never rely on smell"));
            }
        }
    }

    @Test
    void lampChange_any_warnsOfUltravioletAndMercury() {
        assertThat(BOOK.of(Condition.LAMP_DUE).cautions())
                .anyMatch(c -> c.contains("ultraviolet"))
                .anyMatch(c -> c.contains("mercury"));
    }

    @ParameterizedTest
    @EnumSource(
            value = Cause.class,
            names = {"SCALE", "LEFT_IN_CLEANING"})
    void cleaningCauses_any_warnOfAcid(Cause cause) {
        assertThat(BOOK.of(cause).cautions()).anyMatch(c -> c.contains("acid"));
    }

    @Test
    void adviceFor_likelyCause_isAboutTheCause() {
        assertThat(BOOK.adviceFor(finding(Condition.LONG_FREEZE, 0.7), Optional.empty())
                        .about())
                .isEqualTo("low-charge");
    }

    @Test
    void adviceFor_causeThatCannotBeTold_isAboutTheCondition() {
        assertThat(BOOK.adviceFor(finding(Condition.LONG_FREEZE, 0.2), Optional.empty())
                        .about())
                .isEqualTo("long-freeze");
    }

    @Test
    void parse_entryMissing_namesItsPath() throws IOException {
        String standard = standardText();
        int from = standard.indexOf("  low-charge:");
        String without =
                standard.substring(0, from) + standard.substring(standard.indexOf("  refrigerant-restriction:"));

        assertThatThrownBy(() -> AdviceBook.parse("mine.yaml", without))
                .isInstanceOf(YamlProblems.class)
                .hasMessageContaining("causes.low-charge.headline")
                .hasMessageContaining("causes.low-charge.site");
    }

    @Test
    void parse_unknownWordAndUnknownEntry_areTold() throws IOException {
        String wrong = standardText().replaceFirst("cautions: \\[dust]", "cautions: [dusty]")
                + "  frost-giants:\n    headline: \"?\"\n";

        assertThatThrownBy(() -> AdviceBook.parse("mine.yaml", wrong))
                .hasMessageContaining("'dusty'")
                .hasMessageContaining("frost-giants");
    }

    private static Finding finding(Condition condition, double probability) {
        Finding plain = Findings.raised("ice-0001", condition, Findings.NOON);
        return new Finding(
                plain.id(),
                plain.revision(),
                plain.step(),
                plain.site(),
                plain.machine(),
                plain.gateway(),
                condition,
                plain.stage(),
                plain.priority(),
                plain.at(),
                plain.raisedAt(),
                List.of(new ProbableCause(Cause.LOW_CHARGE, probability, List.of(), List.of())),
                plain.measure(),
                plain.limit(),
                plain.summary(),
                plain.detectorVersion(),
                plain.policyVersion());
    }

    private static String standardText() throws IOException {
        try (InputStream in = AdviceBook.class.getResourceAsStream("advice.yaml")) {
            assertThat(in).isNotNull();
            return new String(Objects.requireNonNull(in).readAllBytes(), StandardCharsets.UTF_8);
        }
    }
}
