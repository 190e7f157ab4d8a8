package dev.rimecast.alerts.notice.send;

import java.net.Inet4Address;
import java.net.Inet6Address;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.UnknownHostException;
import org.apache.hc.client5.http.DnsResolver;
import org.apache.hc.client5.http.SystemDefaultDnsResolver;

/**
 * Where a webhook may go: nowhere inside. A name is resolved once, every address is looked at, and the connection goes to
 * one of these, so a name that changes its mind in between gains nothing; {@link GuardedSockets} looks at that one once more.
 *
 * <p>Refused are the addresses that IANA's special-purpose registries (RFC 6890) have for this host, private, shared,
 * link-local and documentation networks, and those that carry an IPv4 address inside (mapped, NAT64, 6to4, Teredo).
 */
public final class TargetGuard implements DnsResolver {
    private final boolean allowsPrivate;
    private final DnsResolver resolver;

    /** @param allowsPrivate refuses nothing: for receivers on the firm's own network */
    public TargetGuard(boolean allowsPrivate) {
        this(allowsPrivate, SystemDefaultDnsResolver.INSTANCE);
    }

    TargetGuard(boolean allowsPrivate, DnsResolver resolver) {
        this.allowsPrivate = allowsPrivate;
        this.resolver = resolver;
    }

    /** A name that leads where no webhook may go. */
    static final class Forbidden extends UnknownHostException {
        private static final long serialVersionUID = 1L;

        Forbidden(String host) {
            super(host + " leads to an address that is not public; webhook.private-addresses: true allows it");
        }
    }

    @Override
    public InetAddress[] resolve(String host) throws UnknownHostException {
        InetAddress[] addresses = resolver.resolve(host);
        if (!allowsPrivate) {
            for (InetAddress address : addresses) {
                if (!isPublic(address)) {
                    throw new Forbidden(host);
                }
            }
        }
        return addresses;
    }

    /**
     * The same for the address that a socket is about to connect to.
     *
     * @throws Forbidden if it is not public, or not known
     */
    void check(InetSocketAddress to) throws Forbidden {
        if (!allowsPrivate && (to.getAddress() == null || !isPublic(to.getAddress()))) {
            throw new Forbidden(to.getHostString());
        }
    }

    @Override
    public String resolveCanonicalHostname(String host) throws UnknownHostException {
        return host;
    }

    static boolean isPublic(InetAddress address) {
        if (address.isAnyLocalAddress()
                || address.isLoopbackAddress()
                || address.isLinkLocalAddress()
                || address.isSiteLocalAddress()
                || address.isMulticastAddress()) {
            return false;
        }
        return address instanceof Inet6Address
                ? isPublicSix(address.getAddress())
                : isPublicFour((Inet4Address) address);
    }

    private static boolean isPublicFour(Inet4Address address) {
        int bits = address.hashCode(); // its 32 bits, as the class defines it
        return !(isIn(bits, 0x00000000, 8)
                || isIn(bits, 0x64400000, 10) // shared, RFC 6598
                || isIn(bits, 0xC0000000, 24) // IETF protocols
                || isIn(bits, 0xC0000200, 24)
                || isIn(bits, 0xC0586300, 24) // 6to4 relays, RFC 7526
                || isIn(bits, 0xC6120000, 15) // benchmarks, RFC 2544
                || isIn(bits, 0xC6336400, 24)
                || isIn(bits, 0xCB007100, 24)
                || isIn(bits, 0xF0000000, 4));
    }

    private static boolean isIn(int bits, int network, int length) {
        return (bits ^ network) >>> (32 - length) == 0;
    }

    /** Only global unicast 2000::/3, without what carries an IPv4 address or is for documentation. */
    private static boolean isPublicSix(byte[] address) {
        boolean isGlobal = (address[0] & 0xE0) == 0x20;
        int first = ((address[0] & 0xFF) << 8) | (address[1] & 0xFF);
        int second = ((address[2] & 0xFF) << 8) | (address[3] & 0xFF);
        boolean is6to4 = first == 0x2002;
        boolean isSpecial = first == 0x2001 && (second < 0x0200 || second == 0x0DB8);
        boolean isDocumentation = first == 0x3FFF && second < 0x1000;
        return isGlobal && !is6to4 && !isSpecial && !isDocumentation;
    }
}
