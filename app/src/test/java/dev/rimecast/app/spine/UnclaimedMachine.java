package dev.rimecast.app.spine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.analytics.stream.SiteLogReader;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import tools.jackson.databind.JsonNode;

/**
 * A machine in no register, of which the ward's gateway tells, and somebody else, too. Once it is claimed behind the ward's, what
 * waited of it is judged, what comes is taken at once, and what the other one sent stays where it is.
 */
record UnclaimedMachine(TwoSites sites) {

    void isClaimed() throws Exception {
        MqttWay other = new MqttWay(sites.brokerPort, "anybody", new MqttConnectionOptions());
        other.publish("gw-keyless", TwoSites.hot("ward-2", 35));
        String waiting = IntStream.rangeClosed(34, 44)
                .mapToObj(minute -> TwoSites.hot("ward-2", minute).replaceAll("^\\[|]$", ""))
                .collect(Collectors.joining(",", "[", "]"));
        sites.endpoint("gw-ward", sites.wardSecret).publish("gw-ward", waiting);
        await().dontCatchUncaughtExceptions()
                .atMost(TwoSites.LIMIT)
                .until(() -> waits("ward-2").size() == 2);

        String claim = "{\"row\":{\"machine\":\"ward-2\",\"site\":\"ward\",\"gateway\":\"gw-ward\"}}";
        assertThat(sites.ward.tries("/api/v1/claims", claim).statusCode())
                .as("an account that does not see every site")
                .isEqualTo(403);
        assertThat(sites.administrator
                        .tries("/api/v1/claims", claim.replace("\"ward\"", "\"harbour\""))
                        .body())
                .contains("gw-ward stands on site ward");
        sites.administrator.post("/api/v1/claims", claim);
        assertThat(sites.administrator.tries("/api/v1/claims", claim).body()).contains("409", "claimed by");
        assertThat(sites.administrator.get("/api/v1/fleet")).contains("ward-2");
        await().dontCatchUncaughtExceptions()
                .atMost(TwoSites.LIMIT)
                .untilAsserted(() -> assertThat(sites.administrator.get("/api/v1/alerts?machine=ward-2"))
                        .as("what waited is judged")
                        .contains("ward-2"));

        sites.endpoint("gw-ward", sites.wardSecret).publish("gw-ward", TwoSites.hot("ward-2", 46));
        await().dontCatchUncaughtExceptions()
                .atMost(TwoSites.LIMIT)
                .untilAsserted(() -> assertThat(sites.administrator.get("/api/v1/machines/ward-2"))
                        .as("what comes is taken at once")
                        .contains("2026-03-01T00:46:00Z"));
        other.publish("gw-keyless", TwoSites.hot("ward-2", 47));
        await().dontCatchUncaughtExceptions()
                .atMost(TwoSites.LIMIT)
                .until(() -> sites.rejected("gw-keyless", "machine-of-other-gateway") == 2);
        assertThat(new SiteLogReader(sites.server.kafka()).read("ward"))
                .as("nothing of it is in the ward's log")
                .noneMatch(record -> record.toString().contains("gw-keyless"));
        assertThat(waits("ward-2"))
                .singleElement()
                .satisfies(one ->
                        assertThat(one.path("registeredBehind").asString("")).isEqualTo("gw-ward"));

        sites.administrator.delete("/api/v1/claims/ward-2");
        assertThat(waits("ward-2"))
                .as("what was taken over waits no more")
                .extracting(one -> one.path("gateway").asString(""))
                .containsExactly("gw-keyless");
    }

    private List<JsonNode> waits(String machine) {
        return TwoSites.JSON
                .readTree(sites.administrator.get("/api/v1/system/unclaimed"))
                .valueStream()
                .filter(one -> one.path("machine").asString("").equals(machine))
                .toList();
    }
}
