package dev.rimecast.telemetry.yaml;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class YamlTest {
    private static final Duration DAY = Duration.ofDays(1);

    private enum Mode {
        OWN,
        BROKER;

        String word() {
            return name().toLowerCase(java.util.Locale.ROOT);
        }
    }

    private static List<String> problemsOf(String text, Function<YamlMap, ?> reader) {
        YamlProblems problems =
                catchThrowableOfType(YamlProblems.class, () -> Yaml.read("test.yaml", text, reader::apply));
        assertThat(problems).as("problems of the document").isNotNull();
        return problems.problems().stream().map(YamlProblem::toString).toList();
    }

    @Test
    void read_everyType_givesItsValue() {
        String text = """
                name: north
                port: 1883
                share: 0.25
                whole: 3
                wait: 1h30m
                on: true
                mode: broker
                roles: [ingest, alerts]
                nested:
                  deep:
                    key: value
                groups:
                  small: {limit: 60}
                  large: {limit: 70}
                rules:
                  - cause: scale
                  - cause: fan-weak
                extra:
                  acks: all
                """;

        String read = Yaml.read("test.yaml", text, yaml -> {
            assertThat(yaml.string("name")).isEqualTo("north");
            assertThat(yaml.integer("port", 1, 65535)).isEqualTo(1883);
            assertThat(yaml.number("share", Range.of(0, 1))).isEqualTo(0.25);
            assertThat(yaml.number("whole", Range.ANY)).isEqualTo(3.0);
            assertThat(yaml.duration("wait", Duration.ZERO, DAY)).isEqualTo(Duration.ofMinutes(90));
            assertThat(yaml.bool("on")).isTrue();
            assertThat(yaml.oneOf("mode", Mode.class, Mode::word)).isEqualTo(Mode.BROKER);
            assertThat(yaml.list("roles", YamlType.text())).containsExactly("ingest", "alerts");
            assertThat(yaml.maps("groups"))
                    .hasEntrySatisfying(
                            "large",
                            group ->
                                    assertThat(group.number("limit", Range.ANY)).isEqualTo(70));
            assertThat(yaml.map("groups").map("small").number("limit", Range.ANY))
                    .isEqualTo(60);
            assertThat(yaml.mapList("rules"))
                    .extracting(rule -> rule.string("cause"))
                    .containsExactly("scale", "fan-weak");
            assertThat(yaml.values("extra", YamlType.text())).containsExactly(Map.entry("acks", "all"));
            return yaml.map("nested").map("deep").string("key");
        });

        assertThat(read).isEqualTo("value");
    }

    @Test
    void read_keysNotThere_giveDefaults() {
        List<Object> read = Yaml.read(
                "test.yaml",
                "section:\n",
                yaml -> List.of(
                        yaml.map("section").integer("port", 1, 9, 7),
                        yaml.map("other").bool("on", true),
                        yaml.optionalString("name"),
                        yaml.optionalNumber("share", Range.ANY).isPresent(),
                        yaml.list("roles", YamlType.text()),
                        yaml.optionalMap("none").isPresent()));

        assertThat(read).containsExactly(7, true, Optional.empty(), false, List.of(), false);
    }

    @Test
    void read_emptyDocument_givesDefaults() {
        assertThat(Yaml.<Integer>read("test.yaml", "# nothing\n", yaml -> yaml.integer("port", 1, 9, 7)))
                .isEqualTo(7);
    }

    @Test
    void read_manyFaults_reportsAllInOrderOfLinesWithPaths() {
        String text = """
                mqtt:
                  prt: 1883
                  host: [a, b]
                  host: b
                  wait: 5 minutes
                share: 1.5
                name: 12
                on: yes
                empty:
                """;

        List<String> problems = problemsOf(text, yaml -> {
            YamlMap mqtt = yaml.map("mqtt");
            mqtt.integer("port", 1, 65535, 1883);
            mqtt.string("host");
            mqtt.duration("wait", Duration.ofSeconds(1), DAY);
            mqtt.string("user");
            yaml.number("share", Range.of(0, 1));
            yaml.string("name");
            yaml.bool("on");
            return yaml.string("empty");
        });

        assertThat(problems)
                .containsExactly(
                        "test.yaml:1: mqtt.user: is missing: give text",
                        "test.yaml:2: mqtt.prt: is not a known key: did you mean 'port'?",
                        "test.yaml:3: mqtt.host: must be text, found a list",
                        "test.yaml:4: mqtt.host: is here twice, first in line 3: delete one",
                        "test.yaml:5: mqtt.wait: must be a time such as 90s, 15m, 2h or 30d, from 1s to 1d,"
                                + " found '5 minutes'",
                        "test.yaml:6: share: must be from 0 to 1, found the number 1.5",
                        "test.yaml:7: name: must be text, found the number 12: put it in quotes",
                        "test.yaml:8: on: must be true or false, found 'yes'",
                        "test.yaml:9: empty: has no value: give text, or delete the line");
    }

    @Test
    void read_wordNotOfTheEnum_namesTheWordsAndTheNearest() {
        assertThat(problemsOf("mode: brokre", yaml -> yaml.oneOf("mode", Mode.class, Mode::word)))
                .containsExactly(
                        "test.yaml:1: mode: must be one of own, broker, found 'brokre': did you mean 'broker'?");
    }

    @Test
    void read_wholeNumberTooLarge_isAProblem() {
        assertThat(problemsOf("port: 99999999999999999999", yaml -> yaml.integer("port", 1, 65535)))
                .containsExactly("test.yaml:1: port: must be a whole number from 1 to 65535,"
                        + " found the number 99999999999999999999");
        assertThat(problemsOf("port: 9223372036854775808", yaml -> yaml.integer("port", 1, 65535)))
                .hasSize(1);
    }

    @Test
    void read_wrongKindOfNode_isAProblemAndNamesWhatWasFound() {
        String text = "a: 1\nb: {x: 1}\nc: [1]\nd: [{k: v}, word]\n";

        List<String> problems = problemsOf(text, yaml -> {
            yaml.map("a");
            yaml.list("b", YamlType.text());
            yaml.map("c");
            return yaml.mapList("d").get(0).string("k");
        });

        assertThat(problems)
                .containsExactly(
                        "test.yaml:1: a: must be keys with values, found the number 1",
                        "test.yaml:2: b: must be a list, found keys with values",
                        "test.yaml:3: c: must be keys with values, found a list",
                        "test.yaml:4: d[1]: must be keys with values, found 'word'");
    }

    @Test
    void read_recordRefusesTheCombination_isAProblemOfTheDocument() {
        assertThat(problemsOf("low: 3\nhigh: 1\n", yaml -> {
                    double low = yaml.number("low", Range.ANY);
                    return Range.of(low, yaml.number("high", Range.ANY));
                }))
                .containsExactly("test.yaml:1: low 3.0 must not be above high 1.0");
    }

    @Test
    void read_brokenSyntax_givesTheLine() {
        assertThat(problemsOf("a: 1\nb: [1, 2\n", yaml -> ""))
                .singleElement()
                .asString()
                .startsWith("test.yaml:3: is not YAML: ");
    }

    @Test
    void read_listAtTheTop_isAProblem() {
        assertThat(problemsOf("- a\n", yaml -> "")).containsExactly("test.yaml:1: must be keys with values at its top");
    }

    @Test
    void read_override_replacesTheValueAndIsNamedInProblems() {
        Map<String, YamlOverride> overrides = Map.of(
                "mqtt.port", new YamlOverride("APP_MQTT_PORT", "0"),
                "name", new YamlOverride("APP_NAME", "12"),
                "roles", new YamlOverride("APP_ROLES", "a, b"));

        YamlProblems thrown = catchThrowableOfType(
                YamlProblems.class,
                () -> Yaml.read("test.yaml", "mqtt:\n  port: 5\n", overrides, yaml -> {
                    assertThat(yaml.string("name")).isEqualTo("12");
                    assertThat(yaml.list("roles", YamlType.text())).containsExactly("a", "b");
                    return yaml.map("mqtt").integer("port", 1, 9);
                }));

        assertThat(thrown)
                .hasMessage("APP_MQTT_PORT: mqtt.port: must be a whole number from 1 to 9, found the number 0");
    }

    @Test
    void read_fileThatIsNotUtf8_saysSo(@TempDir Path directory) throws IOException {
        Path file = Files.write(directory.resolve("latin.yaml"), new byte[] {'a', ':', ' ', (byte) 0xe4});

        YamlProblems thrown = catchThrowableOfType(YamlProblems.class, () -> Yaml.read(file, YamlMap::path));

        assertThat(thrown).hasMessageEndingWith("latin.yaml: is not UTF-8: save it in that encoding");
    }
}
