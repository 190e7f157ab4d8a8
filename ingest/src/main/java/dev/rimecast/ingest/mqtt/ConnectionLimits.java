package dev.rimecast.ingest.mqtt;

/**
 * How many connections there may be at a time.
 *
 * @param perGateway of one gateway; 0: any number
 * @param perAddress of one address, from the first packet of TCP on, so those that never say CONNECT, too; 0: any number
 */
public record ConnectionLimits(int perGateway, int perAddress) {
    /** A gateway needs one, and a second while a broken line is not noticed yet; behind one address stand the gateways of a whole firm. */
    public static final ConnectionLimits STANDARD = new ConnectionLimits(10, 2_000);

    public ConnectionLimits {
        if (perGateway < 0 || perAddress < 0) {
            throw new IllegalArgumentException("connections of a gateway and of an address must be at least 0, were "
                    + perGateway + " and " + perAddress);
        }
    }
}
