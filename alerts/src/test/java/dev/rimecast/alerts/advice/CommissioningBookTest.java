package dev.rimecast.alerts.advice;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.alerts.advice.Checklist.Item;
import dev.rimecast.alerts.advice.Checklist.Section;
import dev.rimecast.telemetry.machine.Machine.Cooling;
import dev.rimecast.telemetry.machine.Machine.DrainKind;
import dev.rimecast.telemetry.machine.Machine.SprayUnit;
import dev.rimecast.telemetry.yaml.Yaml;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The checklist of commissioning: complete, and fitting the kind of machine. */
class CommissioningBookTest {
    private static final CommissioningBook BOOK = CommissioningBook.standard();
    private static final String TEXT = Yaml.text(CommissioningBook.class, "commissioning.yaml");
    private static final MachineKind PUMPED =
            new MachineKind(Optional.of(SprayUnit.BAR), Optional.of(DrainKind.PUMP), Optional.of(Cooling.AIR));

    private static Item item(MachineKind kind, String id) {
        return BOOK.of(kind).items().stream()
                .filter(each -> each.id().equals(id))
                .findFirst()
                .orElseThrow(() -> new AssertionError("no item " + id));
    }

    /** What must be looked at before a machine is left to itself: common practice of the trade. */
    @ParameterizedTest
    @CsvSource({
        "services, own-supply, own",
        "services, isolator, isolator",
        "services, drinkable-water, drinking water",
        "services, stop-valve, stop valve",
        "services, water-filter, filter",
        "services, hose-washer, washer",
        "services, waste-trap, trapped",
        "services, waste-vent, vented",
        "services, waste-air-gap, air gap",
        "services, waste-fall, falls all the way",
        "services, pump-lift, drain pump",
        "place, water-hose-free, 'tight, dry and unkinked'",
        "place, waste-hose-free, pushed back",
        "place, level-sideways, level",
        "place, level-lengthways, front to back",
        "place, nothing-on-top, nothing",
        "place, lid-opens, fully",
        "place, vents-clear, clear",
        "inside, spray-unit-firm, firm",
        "inside, curtain-right, right way round",
        "inside, sump-plug-seated, seated",
        "inside, pump-seated, seated",
        "isolated, fan-free, firm",
        "isolated, compressor-mounts, mounts",
        "isolated, pipes-apart, touch",
        "first-run, probes-told-apart, harvest",
        "first-run, idle-clean-again, thrown away again",
    })
    void list_ofAMachineThatNothingIsKnownOf_hasEveryItem(String section, String id, String words) {
        Section part = BOOK.of(MachineKind.NOT_KNOWN).sections().stream()
                .filter(each -> each.id().equals(section))
                .findFirst()
                .orElseThrow();

        assertThat(part.items())
                .filteredOn(item -> item.id().equals(id))
                .singleElement()
                .satisfies(item -> assertThat((item.check() + ' ' + item.expect()).toLowerCase(java.util.Locale.ROOT))
                        .contains(words));
    }

    @Test
    void list_whereCoversAreOff_beginsWithTheCautionsOfThePanel() {
        assertThat(BOOK.of(PUMPED).sections()).allSatisfy(section -> {
            if (section.isolated()) {
                assertThat(section.cautions())
                        .anyMatch(caution -> caution.startsWith("Isolate the power and lock it off"));
            } else {
                assertThat(section.cautions()).isEmpty();
            }
        });
        assertThat(BOOK.of(PUMPED).sections().stream().filter(Section::isolated).map(Section::id))
                .containsExactly("inside", "isolated");
        assertThat(BOOK.of(PUMPED).deferTo()).hasSize(7);
        assertThat(BOOK.of(PUMPED).cautions()).hasSize(5);
    }

    @Test
    void list_ofAKnownKind_asksOnlyWhatItHas() {
        assertThat(BOOK.of(PUMPED).items())
                .extracting(Item::id)
                .contains("pump-lift", "vents-clear", "fan-free")
                .doesNotContain("waste-fall", "cooling-water", "remote-condenser");
        assertThat(item(PUMPED, "spray-unit-firm").check()).isEqualTo("Spray bar");
        assertThat(item(PUMPED, "pump-lift").check()).isEqualTo("Lift of the waste");
        assertThat(item(MachineKind.NOT_KNOWN, "pump-lift").check())
                .isEqualTo("If it has a drain pump: Lift of the waste");
    }

    @ParameterizedTest
    @CsvSource({
        "id: own-supply, id: isolator, is there twice",
        "id: own-supply, id: Own, must be small letters",
        "'check: \"Isolator\", ', '', check",
        "'defer: [maker, ', 'defer: [makr, ', which is none of",
        "isolated: true, , isolated",
    })
    void parse_withAMistake_saysWhere(String from, String to, String says) {
        String spoiled = TEXT.replaceFirst(java.util.regex.Pattern.quote(from), to == null ? "" : to);
        assertThat(spoiled).isNotEqualTo(TEXT);

        assertThatThrownBy(() -> CommissioningBook.parse("c.yaml", spoiled)).hasMessageContaining(says);
    }
}
