package dev.rimecast.alerts.notice.send;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.net.InetAddress;
import java.net.UnknownHostException;
import java.util.List;
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

    /**
     * Blocks of the IANA IPv4 and IPv6 Special-Purpose Address Registries (RFC 6890 and its updates) that are not globally reachable or
     * lead on to other addresses, with the multicast space (RFC 5771, RFC 4291) and what is not allocated; from memory. Of each, the first
     * address, the last, and one in between.
     */
    @ParameterizedTest
    @ValueSource(
            strings = {
                "0.0.0.0/8", // this network, RFC 791
                "10.0.0.0/8", // private, RFC 1918
                "100.64.0.0/10", // shared, RFC 6598
                "127.0.0.0/8", // loopback, RFC 1122
                "169.254.0.0/16", // link local, RFC 3927
                "172.16.0.0/12", // private, RFC 1918
                "192.0.0.0/24", // IETF protocols, RFC 6890
                "192.0.2.0/24", // documentation, RFC 5737
                "192.88.99.0/24", // 6to4 relays, withdrawn by RFC 7526
                "192.168.0.0/16", // private, RFC 1918
                "198.18.0.0/15", // benchmarks, RFC 2544
                "198.51.100.0/24", // documentation, RFC 5737
                "203.0.113.0/24", // documentation, RFC 5737
                "224.0.0.0/4", // multicast, RFC 5771
                "240.0.0.0/4", // reserved, RFC 1112, with the broadcast address, RFC 919
                "::/128", // unspecified, RFC 4291
                "::1/128", // loopback, RFC 4291
                "::/96", // with an IPv4 address, withdrawn by RFC 4291
                "::ffff:0:0/96", // mapped, RFC 4291
                "64:ff9b::/96", // NAT64, RFC 6052
                "64:ff9b:1::/48", // NAT64 of a network of its own, RFC 8215
                "100::/64", // discard, RFC 6666
                "100:0:0:1::/64", // dummy, RFC 9780
                "2001::/23", // IETF protocols, RFC 2928, with Teredo, benchmarks, ORCHID
                "2001:db8::/32", // documentation, RFC 3849
                "2002::/16", // 6to4, RFC 3056
                "3fff::/20", // documentation, RFC 9637
                "5f00::/16", // segment routing, RFC 9602
                "fc00::/7", // unique local, RFC 4193
                "fe80::/10", // link local, RFC 4291
                "fec0::/10", // site local, withdrawn by RFC 3879
                "ff00::/8" // multicast, RFC 4291
            })
    void specialBlock_isNotPublic_fromItsFirstAddressToItsLast(String block) throws UnknownHostException {
        String[] parts = block.split("/");
        byte[] first = InetAddress.getByName(parts[0]).getAddress();
        // The platform turns a mapped address into one of four bytes; the block is that of all of them.
        int length = block.startsWith("::ffff") ? 0 : Integer.parseInt(parts[1]);
        if (block.startsWith("::ffff")) {
            assertThat(TargetGuard.isPublic(InetAddress.getByName("::ffff:127.0.0.1")))
                    .isFalse();
            assertThat(TargetGuard.isPublic(InetAddress.getByName("::ffff:a9fe:a9fe")))
                    .isFalse();
            return;
        }
        byte[] last = first.clone();
        byte[] between = first.clone();
        for (int bit = length; bit < first.length * 8; bit++) {
            last[bit / 8] |= (byte) (0x80 >> bit % 8);
            if (bit % 3 == 0) {
                between[bit / 8] |= (byte) (0x80 >> bit % 8);
            }
        }
        for (byte[] address : List.of(first, between, last)) {
            assertThat(TargetGuard.isPublic(InetAddress.getByAddress(address)))
                    .as(InetAddress.getByAddress(address).toString())
                    .isFalse();
        }
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
