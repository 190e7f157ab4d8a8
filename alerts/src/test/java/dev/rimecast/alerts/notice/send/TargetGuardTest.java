package dev.rimecast.alerts.notice.send;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.net.InetAddress;
import java.net.UnknownHostException;
import org.apache.hc.client5.http.DnsResolver;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Addresses: IANA special-purpose address registries (RFC 6890), from memory. */
class TargetGuardTest {

    @ParameterizedTest
    @ValueSource(
            strings = {
                "0.0.0.0",
                "0.1.2.3",
                "10.1.2.3",
                "100.64.0.1",
                "100.127.255.255",
                "127.0.0.1",
                "127.9.9.9",
                "169.254.169.254",
                "172.16.0.1",
                "172.31.255.255",
                "192.0.0.1",
                "192.0.2.1",
                "192.168.1.1",
                "198.18.0.1",
                "198.19.255.255",
                "198.51.100.1",
                "203.0.113.1",
                "224.0.0.1",
                "240.0.0.1",
                "255.255.255.255",
                "::",
                "::1",
                "fe80::1",
                "fc00::1",
                "fd12:3456::1",
                "ff02::1",
                "64:ff9b::a00:1",
                "2002:a00:1::1",
                "2001::1",
                "2001:db8::1",
                "3fff::1",
                "::ffff:10.0.0.1",
                "100::1"
            })
    void notPublic(String address) throws UnknownHostException {
        assertThat(TargetGuard.isPublic(InetAddress.getByName(address))).isFalse();
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "1.1.1.1", "9.255.255.255", "11.0.0.0", "100.63.255.255", "100.128.0.0", "172.15.255.255", "172.32.0.0",
                "192.0.1.1", "198.17.255.255", "198.20.0.0", "223.255.255.255", "2606:4700::1", "2a00::1",
                        "2001:4860::1"
            })
    void isPublic(String address) throws UnknownHostException {
        assertThat(TargetGuard.isPublic(InetAddress.getByName(address))).isTrue();
    }

    @Test
    void oneInnerAddressAmongOthers_refusesTheName() {
        DnsResolver names = new DnsResolver() {
            @Override
            public InetAddress[] resolve(String host) throws UnknownHostException {
                return new InetAddress[] {InetAddress.getByName("1.1.1.1"), InetAddress.getByName("10.0.0.1")};
            }

            @Override
            public String resolveCanonicalHostname(String host) {
                return host;
            }
        };
        assertThatThrownBy(() -> new TargetGuard(false, names).resolve("desk.example"))
                .isInstanceOf(TargetGuard.Forbidden.class)
                .hasMessageContaining("desk.example leads to an address that is not public");
    }
}
