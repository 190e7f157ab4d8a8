/** Simulated gateways: the publishing side of the contract, over real MQTT. An example for who builds a real one. */
@NullMarked
package dev.rimecast.simulator.gateway;

import org.jspecify.annotations.NullMarked;
