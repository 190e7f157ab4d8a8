package dev.rimecast.ingest.broker;

import java.io.EOFException;
import org.eclipse.paho.mqttv5.client.MqttDisconnectResponse;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.jspecify.annotations.Nullable;

/** Why a line could not be made or ended, for an operator; reason codes are those of MQTT 5 section 2.4. */
final class Reasons {
    private static final int NOT_AUTHORIZED = 0x87;
    private static final int BAD_LOGIN = 0x86;
    private static final int SESSION_TAKEN_OVER = 0x8E;
    private static final int SHUTTING_DOWN = 0x8B;
    private static final int NO_SHARED_SUBSCRIPTIONS = 0x9E;

    private Reasons() {}

    static String of(Throwable problem, String clientId) {
        if (problem instanceof MqttException mqtt && mqtt.getReasonCode() >= 0x80 && mqtt.getReasonCode() <= 0xFF) {
            return ofCode(mqtt.getReasonCode(), clientId);
        }
        Throwable cause = problem.getCause() == null ? problem : problem.getCause();
        if (cause instanceof EOFException) {
            return "the connection was closed without a reason";
        }
        return cause.getMessage() == null ? cause.toString() : cause.getMessage();
    }

    static String of(MqttDisconnectResponse response, String clientId) {
        @Nullable MqttException problem = response.getException();
        return problem == null ? ofCode(response.getReturnCode(), clientId) : of(problem, clientId);
    }

    static String refusedSubscription(int code) {
        return switch (code) {
            case NOT_AUTHORIZED -> "it does not let us subscribe to fleet/+/senml, senml-cbor and presence";
            case NO_SHARED_SUBSCRIPTIONS -> "it has no shared subscriptions";
            default -> "it refuses our subscription, reason code " + code;
        };
    }

    private static String ofCode(int code, String clientId) {
        return switch (code) {
            case BAD_LOGIN, NOT_AUTHORIZED -> "it refuses user or password";
            case SESSION_TAKEN_OVER ->
                "another client has connected as '" + clientId + "': give each instance a client id of its own";
            case SHUTTING_DOWN -> "it is shutting down";
            default -> "it ended the connection, reason code " + code;
        };
    }
}
