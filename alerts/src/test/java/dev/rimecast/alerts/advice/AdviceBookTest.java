package dev.rimecast.alerts.advice;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.alerts.life.Findings;
import dev.rimecast.alerts.view.Advice;
import dev.rimecast.alerts.view.Advice.EngineerCheck;
import dev.rimecast.alerts.view.Advice.SiteCheck;
import dev.rimecast.alerts.view.Advice.Told;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.machine.Machine.Cooling;
import dev.rimecast.telemetry.machine.Machine.DrainKind;
import dev.rimecast.telemetry.machine.Machine.SprayUnit;
import dev.rimecast.telemetry.yaml.YamlProblems;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Collectors;
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

    /** Every entry as it is said of a machine of each kind, what is not known included. */
    static Stream<Advice> everyVariant() {
        return everyEntry()
                .flatMap(entry ->
                        MachineKind.all().stream().map(kind -> entry.about(kind, BOOK.kindWords(), Optional.empty())));
    }

    /** Else a file of parts that take days to come would miss one of them. */
    @Test
    void parts_eachHaveOneName() {
        List<String> names = BOOK.parts().stream()
                .map(part -> part.replaceFirst("[,(].*", "").strip())
                .distinct()
                .toList();

        assertThat(names.stream().filter(name -> names.stream().anyMatch(shorter -> name.startsWith(shorter + " "))))
                .as("what begins with another part's name and is another part")
                .containsExactlyInAnyOrder(
                        "Cable ties",
                        "Coil brush and coil cleaner",
                        "Curtain pins or magnet",
                        "O-rings for the sleeve",
                        "Strainer of the cooling water");
    }

    /** Common practice: to find out, nothing has to be ordered; care is what has its part. */
    @Test
    void parts_whereNoCauseIsTold_areCarriedAndNoneIsNeeded() {
        Map<Boolean, List<Condition>> needing = Stream.of(Condition.values())
                .filter(condition -> BOOK.of(condition).parts().stream()
                        .anyMatch(line -> line.content().isNeeded()))
                .collect(Collectors.partitioningBy(Condition::isCare));

        assertThat(needing.get(false)).isEmpty();
        assertThat(needing.get(true)).contains(Condition.LAMP_DUE, Condition.WATER_FILTER_DUE);
    }

    /** Its own words: "None at the first visit". */
    @Test
    void parts_ofAWeakCompressor_waitForThePlannedJob() {
        assertThat(BOOK.of(Cause.COMPRESSOR_WEAK).parts())
                .noneMatch(line -> line.content().isNeeded());
    }

    @Test
    void variants_ofKinds_areSprayTimesDrainTimesCoolingWithNotKnown() {
        assertThat(MachineKind.all()).hasSize(4 * 3 * 4).doesNotHaveDuplicates().contains(MachineKind.NOT_KNOWN);
        assertThat(everyVariant()).hasSize(48 * (Cause.values().length + Condition.values().length));
    }

    @ParameterizedTest
    @MethodSource("everyVariant")
    void variant_any_hasEveryPart(Advice entry) {
        assertThat(entry.headline()).isNotBlank();
        assertThat(entry.siteChecks()).isNotEmpty().hasSizeLessThanOrEqualTo(4);
        assertThat(entry.engineerChecks()).isNotEmpty();
        assertThat(entry.parts()).isNotEmpty();
        assertThat(entry.minutes()).isBetween(10, 240);
        assertThat(entry.skills()).isNotEmpty();
        assertThat(entry.cautions()).isNotEmpty();
        assertThat(entry.deferTo()).isNotEmpty();
    }

    /** What protects people does not depend on what the register knows. */
    @ParameterizedTest
    @MethodSource("everyEntry")
    void variants_ofAnEntry_haveTheSameCautionsSkillsAndRules(AdviceText entry) {
        for (MachineKind kind : MachineKind.all()) {
            Advice advice = entry.about(kind, BOOK.kindWords(), Optional.empty());
            assertThat(advice.cautions()).isEqualTo(entry.cautions());
            assertThat(advice.skills()).isEqualTo(entry.skills());
            assertThat(advice.deferTo()).isEqualTo(entry.deferTo());
        }
    }

    /** A check that opens a panel is never without the cautions, whatever the kind of machine. */
    @ParameterizedTest
    @MethodSource("everyVariant")
    void variant_thatOpensAPanel_carriesTheCautions(Advice entry) {
        if (entry.engineerChecks().stream().anyMatch(EngineerCheck::opensPanel)) {
            assertThat(String.join(" ", entry.cautions()))
                    .contains("Isolate the power", "lock it off", "stop tap", "sharp", "60 °C", "A3");
        }
    }

    @Test
    void machineWithAGravityDrain_hasNoPumpInItsAdvice() {
        MachineKind gravity = kind(Optional.empty(), Optional.of(DrainKind.GRAVITY), Optional.empty());
        for (Cause cause : List.of(Cause.DRAIN_BLOCKED, Cause.WASTE_HOSE_KINKED)) {
            assertThat(words(BOOK.of(cause), gravity))
                    .as(cause.code())
                    .doesNotContainIgnoringCase("drain pump")
                    .doesNotContainIgnoringCase("level probe")
                    .doesNotContainIgnoringCase("level signal")
                    .doesNotContainIgnoringCase("check valve");
        }
    }

    @Test
    void waterCooledMachine_isNotAskedForAirFiltersAndFans() {
        MachineKind water = kind(Optional.empty(), Optional.empty(), Optional.of(Cooling.WATER));
        for (Condition condition :
                List.of(Condition.HIGH_CONDENSING_TEMPERATURE, Condition.RISING_CONDENSING_TEMPERATURE)) {
            assertThat(words(BOOK.of(condition), water))
                    .as(condition.code())
                    .doesNotContainIgnoringCase("air filter")
                    .doesNotContainIgnoringCase("fan motor")
                    .doesNotContainIgnoringCase("grille")
                    .containsIgnoringCase("cooling water");
        }
    }

    @Test
    void sprayUnit_eachKind_isCalledByItsName() {
        for (SprayUnit spray : SprayUnit.values()) {
            String said = words(
                    BOOK.of(Cause.SPRAY_UNIT_MISPLACED), kind(Optional.of(spray), Optional.empty(), Optional.empty()));
            for (SprayUnit other : SprayUnit.values()) {
                String name = "spray " + other.name().toLowerCase(Locale.ROOT);
                if (other == spray) {
                    assertThat(said).containsIgnoringCase(name);
                } else {
                    assertThat(said).doesNotContainIgnoringCase(name);
                }
            }
        }
    }

    /** Nothing is guessed: what may not fit says so, and what is known is said plainly. */
    @Test
    void kindNotKnown_isSaidInWords() {
        AdviceText entry = BOOK.of(Cause.DRAIN_BLOCKED);

        String notKnown = words(entry, MachineKind.NOT_KNOWN);
        String pumped = words(entry, kind(Optional.empty(), Optional.of(DrainKind.PUMP), Optional.empty()));

        assertThat(notKnown).contains("If it has a drain pump: ").contains("Drain pump, if it has a drain pump");
        assertThat(pumped)
                .doesNotContain("if it has")
                .doesNotContain("If it has a drain")
                .contains("Drain pump");
    }

    /** Only a drain pump can run too long: the condition tells the kind where the register doesn't. */
    @Test
    void drainPumpOverrun_ofAMachineNobodyKnows_isAboutAPump() {
        Finding finding = Findings.raised("ice-0001", Condition.DRAIN_PUMP_OVERRUN, Findings.NOON);

        Advice advice = BOOK.adviceFor(finding, MachineKind.NOT_KNOWN, Optional.empty());

        assertThat(advice.parts()).contains("Drain pump").noneMatch(part -> part.contains("if it has a drain pump"));
    }

    @Test
    void parse_entryWithoutALineForSomeKind_isRefused() throws IOException {
        String wrong = standardText()
                .replaceFirst(
                        "parts: \\[\"Baffle or cover as fits the machine\"]",
                        "parts: [{text: Baffle, for: {cooling: [air]}}]");

        assertThatThrownBy(() -> AdviceBook.parse("mine.yaml", wrong))
                .hasMessageContaining("causes.hot-air-recirculating.parts: has no line for some kinds of machine");
    }

    private static MachineKind kind(Optional<SprayUnit> spray, Optional<DrainKind> drain, Optional<Cooling> cooling) {
        return new MachineKind(spray, drain, cooling);
    }

    /** All that people are told to do and to bring. */
    private static String words(AdviceText entry, MachineKind kind) {
        Advice advice = entry.about(kind, BOOK.kindWords(), Optional.empty());
        return Stream.of(
                        Stream.of(advice.headline()),
                        advice.siteChecks().stream().map(SiteCheck::ask),
                        advice.engineerChecks().stream().map(check -> check.check() + " " + check.expect()),
                        advice.parts().stream())
                .flatMap(lines -> lines)
                .collect(Collectors.joining("\n"));
    }

    /** The cautions that design.md asks for: isolation, moving and hot parts, fins, flammable refrigerant. */
    @ParameterizedTest
    @MethodSource("everyEntry")
    void entry_thatOpensAPanel_carriesTheCautions(AdviceText entry) {
        if (!entry.opensPanel()) {
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
                assertThat(BOOK.of(cause).opensPanel()).as(cause.code()).isTrue();
            }
        }
    }

    @ParameterizedTest
    @MethodSource("everyEntry")
    void siteChecks_any_needNoTool(AdviceText entry) {
        String site =
                entry.siteChecks().stream().map(line -> line.content().ask()).collect(Collectors.joining(" "));
        assertThat(site.toLowerCase(Locale.ROOT))
                .doesNotContain(
                        "screw", "multimeter", "remove the panel", "cover off", "wrench", "voltage", "pressure gauge");
    }

    /** An instruction is never answered "yes", and what nobody can mend by hand never counts as mended. */
    @ParameterizedTest
    @MethodSource("everyEntry")
    void siteChecks_any_areAnsweredAsTheyAsk(AdviceText entry) {
        for (Line<SiteCheck> line : entry.siteChecks()) {
            SiteCheck check = line.content();
            if (check.told() == Told.YES_OR_NO) {
                assertThat(check.ask().chars().filter(c -> c == '?'))
                        .as(check.ask())
                        .hasSize(1);
                assertThat(check.ask()).doesNotContainPattern("(?i)\\b(what|when|who|which)\\b[^?]*\\?");
            }
            if (check.told() == Told.MENDED) {
                assertThat(check.ask()).doesNotContainIgnoringCase("tell us").doesNotContainIgnoringCase("warmer than");
            }
        }
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
        assertThat(BOOK.adviceFor(finding(Condition.LONG_FREEZE, 0.7), MachineKind.NOT_KNOWN, Optional.empty())
                        .about())
                .isEqualTo("low-charge");
    }

    @Test
    void adviceFor_causeThatCannotBeTold_isAboutTheCondition() {
        assertThat(BOOK.adviceFor(finding(Condition.LONG_FREEZE, 0.2), MachineKind.NOT_KNOWN, Optional.empty())
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
