package dev.rimecast.app;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.JavaCall;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.properties.HasName;
import com.tngtech.archunit.core.domain.properties.HasOwner;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;
import java.io.ObjectInputStream;
import java.util.stream.Stream;

/** What each module must not know, as the design's table of modules has it, and that dependencies run one way. */
@AnalyzeClasses(packages = "dev.rimecast", importOptions = ImportOption.DoNotIncludeTests.class)
class ArchitectureTest {
    private static final String[] KAFKA = {"org.apache.kafka..", "kafka.."};
    private static final String[] MQTT = {"io.vertx..", "org.eclipse.paho.."};
    private static final String[] SQL = {
        "java.sql..", "javax.sql..", "org.postgresql..", "org.jdbi..", "com.zaxxer..", "org.flywaydb..", "org.duckdb.."
    };
    private static final String[] HTTP = {
        "io.javalin..", "org.eclipse.jetty..", "jakarta.servlet..", "java.net.http..", "com.sun.net.httpserver.."
    };

    @ArchTest
    static final ArchRule telemetryKnowsNoTransportAndNoDatabase = in("telemetry", all(KAFKA, MQTT, SQL, HTTP));

    @ArchTest
    static final ArchRule telemetryKnowsNoOtherModule = in(
            "telemetry",
            modules("engines", "ingest", "analytics", "history", "alerts", "dashboard", "simulator", "app"));

    @ArchTest
    static final ArchRule enginesKnowNothingOfOurs = in(
            "engines",
            modules("telemetry", "ingest", "analytics", "history", "alerts", "dashboard", "simulator", "app"));

    @ArchTest
    static final ArchRule ingestKnowsNoDetectionAndNothingAfterIt = in(
            "ingest", all(SQL, modules("engines", "analytics", "history", "alerts", "dashboard", "simulator", "app")));

    @ArchTest
    static final ArchRule analyticsKnowsNoMqttSqlOrHttp = in("analytics", all(MQTT, SQL, HTTP));

    @ArchTest
    static final ArchRule analyticsKnowsTelemetryOnly =
            in("analytics", modules("engines", "ingest", "history", "alerts", "dashboard", "simulator", "app"));

    @ArchTest
    static final ArchRule historyKnowsTelemetryAndAnalyticsOnly =
            in("history", all(MQTT, HTTP, modules("engines", "ingest", "alerts", "dashboard", "simulator", "app")));

    @ArchTest
    static final ArchRule duckDbStaysInHistory = noClasses()
            .that()
            .resideInAPackage("dev.rimecast..")
            .and()
            .resideOutsideOfPackage("dev.rimecast.history..")
            .should()
            .dependOnClassesThat()
            .resideInAPackage("org.duckdb..");

    @ArchTest
    static final ArchRule alertsKnowNoMqttAndNoDetection = in(
            "alerts", all(MQTT, modules("engines", "ingest", "analytics", "history", "dashboard", "simulator", "app")));

    @ArchTest
    static final ArchRule dashboardKnowsNoKafkaAndOnlyAlerts =
            in("dashboard", all(KAFKA, MQTT, modules("engines", "ingest", "analytics", "history", "simulator", "app")));

    @ArchTest
    static final ArchRule simulatorKnowsNoDetector = in(
            "simulator",
            all(KAFKA, SQL, modules("engines", "ingest", "analytics", "history", "alerts", "dashboard", "app")));

    /** Every stage is a plain core; adapters are packages of their own. */
    @ArchTest
    static final ArchRule kafkaStaysInAdapters = noClasses()
            .that()
            .resideInAPackage("dev.rimecast..")
            .and()
            .resideOutsideOfPackages(
                    "dev.rimecast.ingest.kafka..",
                    "dev.rimecast.analytics.stream..",
                    "dev.rimecast.history", // HistoryStage wires
                    "dev.rimecast.history.feed..",
                    "dev.rimecast.alerts", // AlertsStage wires
                    "dev.rimecast.alerts.consume..",
                    "dev.rimecast.alerts.register..",
                    "dev.rimecast.engines..",
                    "dev.rimecast.app..")
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage(KAFKA);

    @ArchTest
    static final ArchRule jacksonIsVersionThree = noClasses()
            .that()
            .resideInAPackage("dev.rimecast..")
            .should()
            .dependOnClassesThat(
                    DescribedPredicate.describe("are Jackson 2, annotations aside", ArchitectureTest::isJacksonTwo));

    /** Programs of the system are those of the embedded PostgreSQL; nothing of a request can start one (OWASP ASVS 5.0, 1.2.5). */
    @ArchTest
    static final ArchRule programsAreStartedByTheEnginesAlone = noClasses()
            .that()
            .resideInAPackage("dev.rimecast..")
            .and()
            .resideOutsideOfPackage("dev.rimecast.engines..")
            .should()
            .dependOnClassesThat()
            .areAssignableTo(ProcessBuilder.class)
            .orShould()
            .callMethodWhere(JavaCall.Predicates.target(HasName.Predicates.name("exec"))
                    .and(JavaCall.Predicates.target(
                            HasOwner.Predicates.With.owner(JavaClass.Predicates.assignableTo(Runtime.class)))));

    /** What comes in is read by fields and never as Java's objects (OWASP ASVS 5.0, 1.5.2). */
    @ArchTest
    static final ArchRule nothingIsReadAsObjects = noClasses()
            .that()
            .resideInAPackage("dev.rimecast..")
            .should()
            .dependOnClassesThat()
            .areAssignableTo(ObjectInputStream.class);

    /** Two cycles are known and named; each goes when the class in question moves to a package below both. */
    @ArchTest
    static final ArchRule packagesAreFreeOfCycles = slices().matching("dev.rimecast.(**)")
            .should()
            .beFreeOfCycles()
            .ignoreDependency("dev.rimecast.analytics.policy.ChangeLimits", "dev.rimecast.analytics.drift.CusumDesign")
            .ignoreDependency(
                    JavaClass.Predicates.resideInAPackage("dev.rimecast.dashboard.api"),
                    JavaClass.Predicates.resideInAPackage("dev.rimecast.dashboard")
                            .and(HasName.Predicates.nameMatching(".*\\.HealthView.*")));

    private static boolean isJacksonTwo(JavaClass type) {
        String name = type.getPackageName();
        return name.startsWith("com.fasterxml.jackson") && !name.startsWith("com.fasterxml.jackson.annotation");
    }

    private static ArchRule in(String module, String... forbidden) {
        return noClasses()
                .that()
                .resideInAPackage("dev.rimecast." + module + "..")
                .should()
                .dependOnClassesThat()
                .resideInAnyPackage(forbidden);
    }

    private static String[] modules(String... names) {
        return Stream.of(names).map(name -> "dev.rimecast." + name + "..").toArray(String[]::new);
    }

    private static String[] all(String[]... groups) {
        return Stream.of(groups).flatMap(Stream::of).toArray(String[]::new);
    }
}
