package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.FactorRule;
import dev.rimecast.alerts.people.People;
import dev.rimecast.alerts.people.Secret;
import dev.rimecast.alerts.people.SignIn;
import dev.rimecast.alerts.people.Visitor;
import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.Test;

/** Links for calendar programs are for whoever may see the visits on the pages. */
class CalendarsApiTest {
    private static final String CALENDARS = "/api/v1/calendars";
    private static final String PHRASE = "seven herons at the quay";

    @Test
    void calendars_accountLacksTheSecondFactorThatIsAskedFor_areNeitherMadeNorShown() {
        try (FakeServer server = FakeServer.guarded(FakeFleets::small, FactorRule.EVERYBODY)) {
            People people = server.people();
            people.links().setUp(people.links().setUp().orElseThrow(), "Ada", PHRASE);
            SignIn.Outcome outcome = people.signIn().withPassword("Ada", PHRASE, "127.0.0.1", "test");
            String token = ((SignIn.Outcome.In) outcome).sessionToken();
            Visitor ada = people.entrance().bySession(token).orElseThrow();
            Web web = new Web(
                    server,
                    List.of(
                            "Cookie",
                            "rimecast-session-" + server.port() + '=' + token,
                            Gate.FORGERY_HEADER,
                            Secret.forgeryToken(token)));

            assertThat(web.get(CALENDARS).statusCode()).isEqualTo(403);
            assertThat(web.post(CALENDARS, "{}").statusCode()).isEqualTo(403);
            assertThat(web.send(web.request(CALENDARS + '/' + UUID.randomUUID())
                                    .DELETE()
                                    .build())
                            .statusCode())
                    .isEqualTo(403);
            // one that was made before it was asked for
            String secret =
                    server.calendars().make(ada, Optional.empty()).orElseThrow().secret();
            assertThat(new Web(server)
                            .nobody()
                            .get("/calendar/" + secret + ".ics")
                            .statusCode())
                    .isEqualTo(404);
        }
    }
}
