package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.util.Collections;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Who a request is from, behind a proxy. Addresses are those of documentation (RFC 5737, RFC 3849). */
class TrustedProxiesTest {
    private static final TrustedProxies HERE = TrustedProxies.of("127.0.0.1, ::1, 192.0.2.10");

    private static String client(TrustedProxies proxies, String socket, String... forwarded) {
        return proxies.client(socket, Collections.enumeration(List.of(forwarded)));
    }

    @Test
    void client_behindAProxyThatIsNamed_isTheLastHop() {
        assertThat(client(HERE, "127.0.0.1", "198.51.100.7")).isEqualTo("198.51.100.7");
        assertThat(client(HERE, "[0:0:0:0:0:0:0:1]", "2001:db8::7")).isEqualTo("2001:db8:0:0:0:0:0:7");
        assertThat(client(HERE, "192.0.2.10", "203.0.113.1, 198.51.100.7")).isEqualTo("198.51.100.7");
        assertThat(client(HERE, "127.0.0.1", "203.0.113.1", "203.0.113.2,198.51.100.7"))
                .as("of several lines the last")
                .isEqualTo("198.51.100.7");
    }

    @Test
    void client_ofAnybodyElse_isTheSocket() {
        assertThat(client(HERE, "192.0.2.11", "198.51.100.7")).isEqualTo("192.0.2.11");
        assertThat(client(TrustedProxies.NONE, "127.0.0.1", "198.51.100.7")).isEqualTo("127.0.0.1");
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "",
                "unknown",
                "198.51.100.7, unknown",
                "198.51.100.7,",
                "198.51.100.7:4711",
                "face.example",
                "198.51.100.256",
                "1234",
                "127.1",
                "::1%lo",
                ":::",
                "2001:db8::7\u0000"
            })
    void client_ofWhatIsNoAddress_isTheProxy(String forwarded) {
        assertThat(client(HERE, "127.0.0.1", forwarded)).isEqualTo("127.0.0.1");
    }

    @Test
    void client_withoutTheHeader_isTheProxy() {
        assertThat(client(HERE, "127.0.0.1")).isEqualTo("127.0.0.1");
    }

    @Test
    void names_areRefused() {
        for (String wrong : List.of("proxy.example", "127.0.0.1,", "", "10.0.0.0/8")) {
            assertThatThrownBy(() -> TrustedProxies.of(wrong))
                    .as(wrong)
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessageContaining("IP addresses");
        }
    }

    /** With a wrong password. */
    private static int signIn(FakeServer server, String name, String from) {
        return new Web(server)
                .nobody()
                .post(
                        "/api/v1/session",
                        "{\"name\":\"" + name + "\",\"password\":\"not it at all\"}",
                        "X-Forwarded-For",
                        from)
                .statusCode();
    }

    /** Tries the same name from these addresses in turn until it has to wait. Each wait is longer than the last, so a slow machine comes to it, too. */
    private static boolean waits(FakeServer server, List<String> from) {
        return IntStream.range(0, 15).anyMatch(i -> signIn(server, "vera", from.get(i % from.size())) == 429);
    }

    @Test
    void stranger_whoGuessesBehindTheProxy_doesNotKeepThePersonOut() {
        try (FakeServer server = FakeServer.guarded(FakeFleets::small).behind(TrustedProxies.of("127.0.0.1"))) {
            assertThat(waits(server, List.of("198.51.100.7", "203.0.113.1, 198.51.100.7")))
                    .as("the stranger, whoever he says to be")
                    .isTrue();
            assertThat(signIn(server, "vera", "198.51.100.8"))
                    .as("from elsewhere the password is asked for")
                    .isEqualTo(401);
        }
    }

    @Test
    void stranger_whereNoProxyIsNamed_isWhoeverTheSocketIs() {
        try (FakeServer server = FakeServer.guarded(FakeFleets::small)) {
            assertThat(waits(
                            server,
                            IntStream.range(1, 16)
                                    .mapToObj(i -> "198.51.100." + i)
                                    .toList()))
                    .isTrue();
        }
    }
}
